package io.heldmark.simulator.sender;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.protocol.ByteStreamDecoder;
import io.heldmark.protocol.MessageHandler;
import io.heldmark.protocol.SamplesView;
import io.heldmark.simulator.Scenarios;
import io.heldmark.simulator.VirtualCell;
import io.heldmark.simulator.scenario.Scenario;
import io.heldmark.simulator.truth.DamageTruth;
import java.io.IOException;
import java.net.InetAddress;
import java.net.Socket;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;

@Timeout(120) // A run that does not end is a failure, not a hung build.
class EndpointTest {
    /** Counts what arrives on one connection. */
    private static final class Counter implements MessageHandler {
        private int messages;
        private int firstSequence = -1;

        @Override
        public void onSamples(SamplesView samples) {
            messages++;
            firstSequence = firstSequence < 0 ? samples.sequence() : firstSequence;
        }
    }

    @Test
    void shouldBreakTheConnectionAndTakeItAgain() throws IOException {
        Scenario scenario = Scenarios.clean(3600, "", "    faults: {disconnect: {atS: [10], durationS: 3}}");
        TcpPort port = new TcpPort(0);
        int number = Integer.parseInt(port.address().replaceAll(".*:", ""));
        try (Endpoint endpoint = new Endpoint("left", new VirtualCell(scenario, 0), port, new Pace(10));
                Socket first = connect(number)) {
            endpoint.start();
            Counter before = read(first, Integer.MAX_VALUE);
            assertTrue(before.messages > 0 && before.firstSequence < 1000, "before the break");
            try (Socket second = connect(number)) {
                Counter after = read(second, 100);
                assertTrue(after.messages > 0 && after.firstSequence >= 1299, "after it: " + after.firstSequence);
            }
            int lost = endpoint.truth().damage().stream()
                    .filter(damage -> damage.kind().equals("disconnect"))
                    .mapToInt(DamageTruth::lostSamples)
                    .sum();
            assertEquals(3000, lost, 12, "what was sent into the break is lost");
        }
    }

    @Test
    void shouldNoteWhatNobodyRead() throws InterruptedException {
        Scenario scenario = Scenarios.clean(5, "", "");
        try (Endpoint endpoint = new Endpoint("left", new VirtualCell(scenario, 0), new TcpPort(0), new Pace(100))) {
            endpoint.start();
            endpoint.awaitEnd();
            List<DamageTruth> damage = endpoint.truth().damage();
            assertEquals(1, damage.size(), "one stretch");
            assertEquals("unread", damage.get(0).kind());
            // 500 messages of 8 + 30 bytes and 5 of framing, a describe and more.
            assertTrue(
                    damage.get(0).bytes() > 500 * 43, "bytes " + damage.get(0).bytes());
        }
    }

    /** Reads until the connection ends or so many messages have come. */
    private static Counter read(Socket socket, int messages) throws IOException {
        Counter counter = new Counter();
        ByteStreamDecoder decoder = new ByteStreamDecoder(counter);
        byte[] buffer = new byte[4096];
        try {
            int count = 0;
            while (count >= 0 && counter.messages < messages) {
                count = socket.getInputStream().read(buffer);
                decoder.accept(buffer, 0, Math.max(0, count));
            }
        } catch (java.net.SocketException e) {
            // Reset: how the end looks where bytes were still on the way.
        }
        return counter;
    }

    private static Socket connect(int number) throws IOException {
        while (true) {
            try {
                return new Socket(InetAddress.getLoopbackAddress(), number);
            } catch (java.net.ConnectException e) {
                Pace.rest(5);
            }
        }
    }
}
