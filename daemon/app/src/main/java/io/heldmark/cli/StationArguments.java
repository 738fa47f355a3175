package io.heldmark.cli;

import io.heldmark.config.StationSettings;
import io.heldmark.pipeline.StationOptions;
import io.heldmark.time.StationClock;
import java.nio.file.Path;
import java.util.Map;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** The options of every command that runs a station on live links. */
final class StationArguments {
    @Mixin
    @SuppressWarnings("NullAway.Init") // picocli sets it.
    private DataArguments data;

    @Mixin
    @SuppressWarnings("NullAway.Init") // picocli sets it.
    private SettingArguments settings;

    @Option(
            names = "--zero-when-quiet",
            description = "Take the session zero by itself as soon as a cell is quiet for about a second.")
    private boolean zeroWhenQuiet;

    /** Returns the options of a station. */
    StationOptions options(StationClock clock, Map<String, String> forced, String subfolder, boolean invented) {
        StationSettings effective = settings.settings(forced);
        Path folder = subfolder.isEmpty() ? data.folder() : data.folder().resolve(subfolder);
        return new StationOptions(effective, folder, clock, Version.text(), invented);
    }

    /** Returns whether the zero is to be taken without being asked for. */
    boolean zeroWhenQuiet() {
        return zeroWhenQuiet;
    }
}
