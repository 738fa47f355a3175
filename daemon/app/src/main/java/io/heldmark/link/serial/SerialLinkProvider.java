package io.heldmark.link.serial;

import io.heldmark.config.ConfigException;
import io.heldmark.link.Link;
import io.heldmark.link.LinkAddress;
import io.heldmark.link.LinkProvider;
import io.heldmark.link.stream.StreamLink;
import io.heldmark.link.stream.StreamOptions;
import io.heldmark.time.StationClock;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;

/**
 * Makes links to serial ports: {@code serial:/dev/ttyUSB0?baud=921600&binding=auto}.
 *
 * <p>The target is the path of the port, or of a symbolic link to it (the names under {@code /dev/serial/by-id} stay the
 * same when the device is plugged in elsewhere); on Windows the name, for example {@code COM3}. A path that is not there
 * is waited for; one that is there and is an ordinary file or folder is refused.
 */
public final class SerialLinkProvider implements LinkProvider {
    /** Baud rate without the option. */
    public static final int DEFAULT_BAUD = 115_200;
    /** Lowest baud rate. */
    public static final int LOWEST_BAUD = 1200;
    /** Highest baud rate. */
    public static final int HIGHEST_BAUD = 4_000_000;

    @Override
    public String scheme() {
        return "serial";
    }

    @Override
    public Link open(LinkAddress address, StationClock clock) {
        StreamOptions.requireKnown(address, List.of("baud"));
        if (address.target().startsWith("/")) {
            requireDevice(address);
        }
        return new StreamLink(
                StreamOptions.name(address),
                StreamOptions.binding(address),
                new SerialConnector(address.target(), baud(address)),
                clock);
    }

    private static int baud(LinkAddress address) {
        String text = address.options().getOrDefault("baud", String.valueOf(DEFAULT_BAUD));
        try {
            int baud = Integer.parseInt(text);
            if (baud >= LOWEST_BAUD && baud <= HIGHEST_BAUD) {
                return baud;
            }
        } catch (NumberFormatException e) {
            // Said below: the same words for what is no number and what is out of range.
        }
        throw new ConfigException(
                "link", address.text(), "baud is a whole number from " + LOWEST_BAUD + " to " + HIGHEST_BAUD);
    }

    private static void requireDevice(LinkAddress address) {
        Path path = Path.of(address.target());
        if (Files.isRegularFile(path) || Files.isDirectory(path)) {
            throw new ConfigException(
                    "link",
                    address.text(),
                    address.target()
                            + " is an ordinary file or folder, not a serial port; list the ports with: heldmark ports");
        }
    }
}
