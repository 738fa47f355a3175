package io.heldmark.cli;

import java.nio.file.Path;
import java.util.Locale;
import java.util.Map;

/** Where recordings are kept unless {@code --data} says otherwise. */
final class DataFolder {
    private DataFolder() {}

    /** Returns the usual folder of this machine. */
    static Path ofPlatform() {
        return of(System.getProperty("os.name", ""), System.getProperty("user.home", "."), System.getenv());
    }

    /**
     * Returns the usual folder.
     *
     * @param osName name of the operating system, as Java has it.
     * @param home the user's home folder.
     * @param environment environment variables; {@code XDG_DATA_HOME} by the XDG Base Directory Specification 0.8, which
     *     says that a relative path there is to be ignored.
     */
    static Path of(String osName, String home, Map<String, String> environment) {
        String system = osName.toLowerCase(Locale.ROOT);
        if (system.contains("mac")) {
            return Path.of(home, "Library", "Application Support", "Heldmark");
        }
        if (system.contains("windows")) {
            String local = environment.getOrDefault("LOCALAPPDATA", "");
            return local.isEmpty() ? Path.of(home, "AppData", "Local", "Heldmark") : Path.of(local, "Heldmark");
        }
        String xdg = environment.getOrDefault("XDG_DATA_HOME", "");
        return xdg.startsWith("/") ? Path.of(xdg, "heldmark") : Path.of(home, ".local", "share", "heldmark");
    }
}
