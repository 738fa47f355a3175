package io.heldmark.record;

import java.nio.file.Path;

/**
 * What a repair did to a file.
 *
 * @param file the file.
 * @param repaired whether the file was changed; false where it had ended properly.
 * @param removedBytes bytes of the half-written tail that were cut off.
 */
public record Repair(Path file, boolean repaired, long removedBytes) {}
