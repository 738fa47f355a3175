package io.heldmark.cli;

import io.heldmark.config.Config;
import io.heldmark.config.StationSettings;
import io.heldmark.pipeline.StationOptions;
import io.heldmark.time.StationClock;
import java.nio.file.Path;
import java.util.LinkedHashMap;
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

    /**
     * Returns the options of a station.
     *
     * @param forced settings that the command itself stands for.
     * @param subfolder folder below the data folder; empty for none.
     * @param invented whether the data are invented (simulated).
     */
    StationOptions options(StationClock clock, Map<String, String> forced, String subfolder, boolean invented) {
        Map<String, String> all = new LinkedHashMap<>(forced);
        if (zeroWhenQuiet) {
            all.put(Config.ZERO_AT_START.key(), "true");
        }
        StationSettings effective = settings.settings(all);
        Path folder = subfolder.isEmpty() ? data.folder() : data.folder().resolve(subfolder);
        return new StationOptions(effective, folder, clock, Version.text(), invented);
    }
}
