package io.heldmark.cli;

import io.heldmark.config.Config;
import io.heldmark.config.ConfigException;
import io.heldmark.config.ConfigFile;
import io.heldmark.config.StationSettings;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Option;

/** The options that change settings of the station. */
final class SettingArguments {
    @Option(names = "--config", paramLabel = "FILE", description = "Settings from a file: one key = value a line.")
    private @Nullable Path file;

    @Option(
            names = "--set",
            paramLabel = "KEY=VALUE",
            description = "One setting (docs/settings.md); wins over the file. As often as needed.")
    private List<String> set = new ArrayList<>();

    /**
     * Returns the effective settings.
     *
     * @param forced settings that another option of the command line stands for.
     * @throws ConfigException naming key, value and what is allowed.
     */
    StationSettings settings(Map<String, String> forced) {
        Map<String, String> line = new LinkedHashMap<>();
        for (String pair : set) {
            int equals = pair.indexOf('=');
            if (equals <= 0) {
                throw new ConfigException("--set " + pair + " is not allowed: write key=value");
            }
            if (line.put(pair.substring(0, equals), pair.substring(equals + 1)) != null) {
                throw new ConfigException("--set " + pair.substring(0, equals) + " stands twice");
            }
        }
        line.putAll(forced);
        return Config.resolve(file == null ? Map.of() : ConfigFile.read(file), line);
    }
}
