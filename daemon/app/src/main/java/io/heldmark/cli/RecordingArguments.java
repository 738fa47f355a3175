package io.heldmark.cli;

import io.heldmark.config.Config;
import java.util.Map;
import picocli.CommandLine.Option;

/** Whether a session with a viewer is recorded from its start. */
final class RecordingArguments {
    @Option(
            names = "--no-record",
            description = "Do not record from the start; recording can be started in the viewer.")
    private boolean noRecord;

    /** Returns the setting that the option stands for. */
    Map<String, String> settings() {
        return noRecord ? Map.of(Config.RECORD_AT_START.key(), "false") : Map.of();
    }
}
