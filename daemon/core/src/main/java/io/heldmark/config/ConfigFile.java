package io.heldmark.config;

import java.io.IOException;
import java.nio.charset.CharacterCodingException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * A configuration file: UTF-8, one {@code key = value} a line; empty lines and lines that begin with {@code #} are left
 * out.
 */
public final class ConfigFile {
    private ConfigFile() {}

    /**
     * Reads a file.
     *
     * @return values by key, in the order of the file.
     * @throws ConfigException if the file cannot be read, a line is not {@code key = value}, or a key stands twice; names
     *     the file and the line.
     */
    public static Map<String, String> read(Path file) {
        try {
            return parse(file.toString(), Files.readAllLines(file));
        } catch (NoSuchFileException e) {
            throw new ConfigException(file + ": there is no such file");
        } catch (CharacterCodingException e) {
            throw new ConfigException(file + ": is not UTF-8 text");
        } catch (IOException e) {
            throw new ConfigException(file + ": cannot be read: " + e.getMessage());
        }
    }

    static Map<String, String> parse(String name, List<String> lines) {
        Map<String, String> values = new LinkedHashMap<>();
        for (int i = 0; i < lines.size(); i++) {
            String line = lines.get(i).trim();
            if (line.isEmpty() || line.startsWith("#")) {
                continue;
            }
            int equals = line.indexOf('=');
            if (equals <= 0) {
                throw new ConfigException(name + ":" + (i + 1) + ": a line is key = value, not '" + line + "'");
            }
            String key = line.substring(0, equals).trim();
            if (values.put(key, line.substring(equals + 1).trim()) != null) {
                throw new ConfigException(name + ":" + (i + 1) + ": " + key + " stands twice");
            }
        }
        return values;
    }
}
