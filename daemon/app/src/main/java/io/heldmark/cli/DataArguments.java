package io.heldmark.cli;

import java.nio.file.Files;
import java.nio.file.Path;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Option;

/** The option that says where recordings are kept. */
final class DataArguments {
    @Option(
            names = "--data",
            paramLabel = "DIR",
            description = "Data folder; recordings are kept below it. Default: this platform's usual folder.")
    private @Nullable Path dir;

    /** Returns the data folder, which need not exist. */
    Path folder() {
        Path folder = dir == null ? DataFolder.ofPlatform() : dir;
        if (Files.exists(folder) && !Files.isDirectory(folder)) {
            throw new BadInputException("--data " + folder + " is a file; name a folder");
        }
        return folder;
    }
}
