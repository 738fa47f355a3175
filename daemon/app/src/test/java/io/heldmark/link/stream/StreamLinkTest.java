package io.heldmark.link.stream;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.link.Link;
import io.heldmark.time.SystemStationClock;
import java.io.IOException;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.List;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;

class StreamLinkTest {
    private final RecordingListener listener = new RecordingListener();

    @Test
    void shouldReportOnlyChangesWhileItWaitsForADevice() throws Exception {
        Deque<Object> script = new ArrayDeque<>(List.of("absent", "absent", "absent", new Scripted(2, 5)));
        try (Link link = link(() -> step(script))) {
            link.start(listener);
            listener.awaitState("DOWN", 1);
        }
        assertEquals(
                List.of("CONNECTING", "CONNECTING not there", "UP"),
                listener.states().subList(0, 3));
        assertEquals(10, listener.bytes().length);
        assertTrue(listener.states().get(3).startsWith("DOWN the other side ended the connection; trying again"));
    }

    @Test
    void shouldSayDownAndNotConnectingOnceItWasUp() throws Exception {
        Deque<Object> script = new ArrayDeque<>(List.of(new Scripted(1, 1), "absent", new Scripted(1, 1), "refused"));
        try (Link link = link(() -> step(script))) {
            link.start(listener);
            listener.awaitState("FAULT", 1);
        }
        List<String> states = listener.states();
        assertEquals(
                List.of(
                        "CONNECTING",
                        "UP",
                        "DOWN the other side ended the connection; trying again",
                        "DOWN not there",
                        "UP"),
                states.subList(0, 5));
        assertTrue(states.contains("FAULT may not"));
    }

    @Test
    void shouldNeverHoldUpWhoeverSendsToADeviceThatTakesNothing() throws Exception {
        CountDownLatch never = new CountDownLatch(1);
        Scripted deaf = new Scripted(Integer.MAX_VALUE, 1) {
            @Override
            public void write(byte[] bytes) throws IOException {
                try {
                    never.await();
                } catch (InterruptedException e) {
                    throw new IOException(e);
                }
            }
        };
        try (Link link = link(() -> deaf)) {
            assertFalse(link.send(new byte[1], 0, 1), "not started");
            link.start(listener);
            listener.awaitBytes(1);
            int taken = 0;
            while (link.send(new byte[8], 0, 8)) {
                taken++;
                assertTrue(taken < 1000, "the queue must be bounded");
            }
            int before = listener.bytes().length;
            listener.awaitBytes(before + 1);
        }
    }

    @Test
    void shouldConnectAnewWhenAMessageCouldNotBeSentWhole() throws Exception {
        Scripted broken = new Scripted(Integer.MAX_VALUE, 1) {
            @Override
            public void write(byte[] bytes) throws IOException {
                throw new IOException("no");
            }
        };
        Deque<Object> script = new ArrayDeque<>(List.of(broken, new Scripted(1, 3)));
        try (Link link = link(() -> step(script))) {
            link.start(listener);
            listener.awaitBytes(1);
            assertTrue(link.send(new byte[1], 0, 1));
            listener.awaitState("UP", 2);
        }
        assertTrue(broken.closed.await(10, TimeUnit.SECONDS));
    }

    @Test
    void shouldRefuseToStartTwiceAndCloseTwiceQuietly() throws Exception {
        Link link = link(() -> {
            throw new UnavailableException(UnavailableException.Kind.UNREACHABLE, "nobody");
        });
        link.start(listener);
        assertThrows(IllegalStateException.class, () -> link.start(listener));
        listener.awaitState("CONNECTING nobody", 1);
        link.close();
        link.close();
        assertFalse(link.send(new byte[1], 0, 1));
    }

    private static Link link(Connector connector) {
        return new StreamLink("test:x", Link.Binding.AUTO, connector, new SystemStationClock());
    }

    private static Connection step(Deque<Object> script) throws UnavailableException {
        Object next = script.isEmpty() ? "absent" : script.poll();
        if (next instanceof Connection connection) {
            return connection;
        }
        throw next.equals("refused")
                ? new UnavailableException(UnavailableException.Kind.REFUSED, "may not")
                : new UnavailableException(UnavailableException.Kind.ABSENT, "not there");
    }

    /** Gives so many reads of so many bytes, then ends. */
    private static class Scripted implements Connection {
        final CountDownLatch closed = new CountDownLatch(1);
        private final int bytesPerRead;
        private int readsLeft;

        Scripted(int reads, int bytesPerRead) {
            readsLeft = reads;
            this.bytesPerRead = bytesPerRead;
        }

        @Override
        public int read(byte[] buffer) throws IOException {
            try {
                Thread.sleep(1);
            } catch (InterruptedException e) {
                throw new IOException(e);
            }
            return readsLeft-- > 0 ? bytesPerRead : -1;
        }

        @Override
        public void write(byte[] bytes) throws IOException {}

        @Override
        public void close() {
            closed.countDown();
        }
    }
}
