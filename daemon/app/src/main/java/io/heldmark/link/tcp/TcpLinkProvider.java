package io.heldmark.link.tcp;

import io.heldmark.config.ConfigException;
import io.heldmark.link.Link;
import io.heldmark.link.LinkAddress;
import io.heldmark.link.LinkProvider;
import io.heldmark.link.stream.StreamLink;
import io.heldmark.link.stream.StreamOptions;
import io.heldmark.time.StationClock;
import java.util.List;

/** Makes links over TCP: {@code tcp:host:port}, {@code tcp:[::1]:9000}; the station connects, the device listens. */
public final class TcpLinkProvider implements LinkProvider {
    @Override
    public String scheme() {
        return "tcp";
    }

    @Override
    public Link open(LinkAddress address, StationClock clock) {
        StreamOptions.requireKnown(address, List.of());
        int colon = address.target().lastIndexOf(':');
        String host = colon < 0 ? "" : hostOf(address.target().substring(0, colon));
        if (host.isEmpty()) {
            throw new ConfigException("link", address.text(), "write tcp:host:port, for example tcp:localhost:9000");
        }
        int port = port(address, address.target().substring(colon + 1));
        return new StreamLink(
                StreamOptions.name(address), StreamOptions.binding(address), new TcpConnector(host, port), clock);
    }

    private static String hostOf(String text) {
        boolean bracketed = text.startsWith("[") && text.endsWith("]");
        return bracketed ? text.substring(1, text.length() - 1) : text;
    }

    private static int port(LinkAddress address, String text) {
        try {
            int port = Integer.parseInt(text);
            if (port >= 1 && port <= 65_535) {
                return port;
            }
        } catch (NumberFormatException e) {
            // Said below: the same words for what is no number and what is out of range.
        }
        throw new ConfigException("link", address.text(), "the port is a whole number from 1 to 65535");
    }
}
