package io.heldmark.simulator.sender;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.net.InetAddress;
import java.net.Socket;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;

@Timeout(60) // A reader that waits forever is a failure, not a hung build.
class TcpPortTest {
    private final byte[] buffer = new byte[64];

    @Test
    void shouldCarryBytesBothWaysToOneReaderAfterTheOther() throws IOException {
        try (TcpPort port = new TcpPort(0)) {
            assertEquals(0, port.write(new byte[3], 0, 3), "nobody is there");
            for (int round = 0; round < 3; round++) {
                try (Socket reader = connect(port)) {
                    exchange(port, reader, round);
                }
                untilGone(port);
            }
        }
    }

    @Test
    void shouldTurnASecondReaderAway() throws IOException {
        try (TcpPort port = new TcpPort(0);
                Socket first = connect(port)) {
            exchange(port, first, 1);
            try (Socket second = connect(port)) {
                port.read(buffer);
                assertEquals(-1, second.getInputStream().read());
            }
            exchange(port, first, 2);
        }
    }

    @Test
    void shouldRefuseWhileDownAndListenOnTheSamePortAgain() throws IOException {
        try (TcpPort port = new TcpPort(0);
                Socket reader = connect(port)) {
            exchange(port, reader, 1);
            port.takeDown();
            assertEquals(-1, reader.getInputStream().read());
            assertThrows(IOException.class, () -> connect(port).close());
            assertEquals(0, port.read(buffer));
            port.bringUp();
            try (Socket again = connect(port)) {
                exchange(port, again, 2);
            }
        }
    }

    @Test
    void shouldSayThatAPortIsInUse() {
        try (TcpPort port = new TcpPort(0)) {
            PortException refused = assertThrows(PortException.class, () -> new TcpPort(number(port)).close());
            assertTrue(refused.getMessage().startsWith("cannot listen on port " + number(port)), refused.getMessage());
        }
    }

    private void exchange(TcpPort port, Socket reader, int value) throws IOException {
        reader.getOutputStream().write(value);
        while (port.read(buffer) == 0) {
            // The connection is taken by reading.
        }
        assertEquals(value, buffer[0]);
        assertEquals(2, port.write(new byte[] {5, (byte) value}, 0, 2));
        assertArrayEquals(new byte[] {5, (byte) value}, reader.getInputStream().readNBytes(2));
    }

    private void untilGone(TcpPort port) {
        while (port.write(new byte[1], 0, 1) > 0) {
            port.read(buffer);
        }
    }

    private static Socket connect(TcpPort port) throws IOException {
        return new Socket(InetAddress.getLoopbackAddress(), number(port));
    }

    private static int number(TcpPort port) {
        return Integer.parseInt(port.address().substring(port.address().lastIndexOf(':') + 1));
    }
}
