package io.heldmark.link.tcp;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.config.ConfigException;
import io.heldmark.link.Link;
import io.heldmark.link.LinkAddress;
import io.heldmark.link.LinkProvider;
import io.heldmark.link.stream.RecordingListener;
import io.heldmark.time.SystemStationClock;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.util.ServiceLoader;
import java.util.TreeSet;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class TcpLinkTest {
    private final RecordingListener listener = new RecordingListener();

    @Test
    void shouldReadWriteAndConnectAgain() throws Exception {
        try (ServerSocket server = new ServerSocket(0, 5, InetAddress.getLoopbackAddress());
                Link link = open("tcp:127.0.0.1:" + server.getLocalPort())) {
            link.start(listener);
            try (Socket device = server.accept()) {
                device.getOutputStream().write(new byte[] {1, 2, 3});
                listener.awaitBytes(3);
                assertTrue(link.send(new byte[] {9, 8, 7}, 1, 2));
                assertArrayEquals(new byte[] {8, 7}, device.getInputStream().readNBytes(2));
            }
            listener.awaitState("DOWN", 1);
            try (Socket device = server.accept()) {
                device.getOutputStream().write(4);
                listener.awaitBytes(4);
            }
        }
        assertArrayEquals(new byte[] {1, 2, 3, 4}, listener.bytes());
    }

    @Test
    void shouldWaitForSomebodyToListen() throws Exception {
        int port;
        try (ServerSocket unused = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
            port = unused.getLocalPort();
        }
        try (Link link = open("tcp:127.0.0.1:" + port)) {
            link.start(listener);
            listener.awaitState("CONNECTING nothing listens on 127.0.0.1 port " + port, 1);
            try (ServerSocket server = new ServerSocket()) {
                server.setReuseAddress(true);
                server.bind(new InetSocketAddress(InetAddress.getLoopbackAddress(), port));
                server.accept().close();
                listener.awaitState("UP", 1);
            }
        }
    }

    @Test
    void shouldSayThatANameIsNotKnown() {
        try (Link link = open("tcp:no-such-host.invalid:9000")) {
            link.start(listener);
            listener.awaitState("CONNECTING the name no-such-host.invalid is not known", 1);
        }
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "tcp:localhost",
                "tcp::9000",
                "tcp:localhost:",
                "tcp:localhost:0",
                "tcp:localhost:65536",
                "tcp:localhost:9000?baud=9600"
            })
    void shouldRefuseAWrongAddress(String address) {
        ConfigException refusal = assertThrows(ConfigException.class, () -> open(address));
        assertTrue(refusal.getMessage().startsWith("link=" + address + " is not allowed: "), refusal.getMessage());
    }

    @Test
    void shouldBeFoundBesideTheSerialProvider() {
        TreeSet<String> schemes = new TreeSet<>();
        for (LinkProvider provider : ServiceLoader.load(LinkProvider.class)) {
            schemes.add(provider.scheme());
        }
        assertTrue(schemes.contains("serial") && schemes.contains("tcp"), schemes.toString());
        assertEquals("tcp:[::1]:9000", open("tcp:[::1]:9000").name());
    }

    private static Link open(String address) {
        return new TcpLinkProvider().open(LinkAddress.parse(address), new SystemStationClock());
    }
}
