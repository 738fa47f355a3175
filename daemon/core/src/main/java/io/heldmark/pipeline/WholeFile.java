package io.heldmark.pipeline;

import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;

/** Writes files that are whole or not there: under another name, forced to the disk, then renamed. */
public final class WholeFile {
    private WholeFile() {}

    /**
     * Writes a text in UTF-8 in place of what the file held.
     *
     * @throws IOException if it cannot be written; the file then is as it was.
     */
    public static void write(Path file, String text) throws IOException {
        write(file, text.getBytes(StandardCharsets.UTF_8));
    }

    /**
     * Writes bytes in place of what the file held.
     *
     * @throws IOException if they cannot be written; the file then is as it was.
     */
    public static void write(Path file, byte[] bytes) throws IOException {
        Path home = file.toAbsolutePath().getParent();
        Path part = Files.createTempFile(home, "saving", ".part");
        try {
            Files.write(part, bytes);
            try (FileChannel channel = FileChannel.open(part, StandardOpenOption.WRITE)) {
                channel.force(true);
            }
            Files.move(part, file, StandardCopyOption.ATOMIC_MOVE);
        } finally {
            Files.deleteIfExists(part);
        }
    }
}
