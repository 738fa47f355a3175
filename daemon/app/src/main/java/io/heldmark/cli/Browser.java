package io.heldmark.cli;

import java.io.IOException;
import java.util.List;
import java.util.Locale;
import java.util.Map;

/** Opens the viewer where there is a browser; whether that works never matters to the station. */
final class Browser {
    private Browser() {}

    /** Opens an address, or does nothing. */
    static void open(String url) {
        List<String> command = command(System.getProperty("os.name", ""), System.getenv(), url);
        if (command.isEmpty()) {
            return;
        }
        try {
            new ProcessBuilder(command)
                    .redirectErrorStream(true)
                    .redirectOutput(ProcessBuilder.Redirect.DISCARD)
                    .start();
        } catch (IOException e) {
            // The address stands on the terminal: nothing is lost.
        }
    }

    /** Returns the command that opens an address; empty on a machine without a screen. */
    static List<String> command(String osName, Map<String, String> environment, String url) {
        String system = osName.toLowerCase(Locale.ROOT);
        if (system.contains("mac")) {
            return List.of("open", url);
        }
        if (system.contains("windows")) {
            return List.of("rundll32", "url.dll,FileProtocolHandler", url);
        }
        boolean screen = environment.containsKey("DISPLAY") || environment.containsKey("WAYLAND_DISPLAY");
        return screen ? List.of("xdg-open", url) : List.of();
    }
}
