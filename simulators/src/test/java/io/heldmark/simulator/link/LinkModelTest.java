package io.heldmark.simulator.link;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.simulator.math.SeededRandom;
import io.heldmark.simulator.scenario.CellSpec.LinkKind;
import io.heldmark.simulator.scenario.CellSpec.LinkTiming;
import java.io.ByteArrayOutputStream;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

class LinkModelTest {
    private static final long MS = 1_000_000;

    private final FrameQueue queue = new FrameQueue();
    private final Chunk chunk = new Chunk();

    private static LinkTiming timing(LinkKind kind, double jitterS, double retryProbability, int baud) {
        return new LinkTiming(kind, 0.0005, jitterS, 0.03, 2, retryProbability, baud, 0.016);
    }

    private static Frame frame(long number, long handoverNs, int length) {
        byte[] bytes = new byte[length];
        java.util.Arrays.fill(bytes, (byte) number);
        return new Frame(bytes, handoverNs, number, null);
    }

    private List<Long> deliverAll(LinkModel link, ByteArrayOutputStream into) {
        List<Long> times = new ArrayList<>();
        while (link.dueNs(queue) != LinkModel.NEVER) {
            long dueNs = link.dueNs(queue);
            assertEquals(dueNs, link.dueNs(queue), "asking changes nothing");
            chunk.begin(dueNs);
            link.deliver(queue, chunk);
            assertTrue(chunk.length() > 0);
            into.write(chunk.bytes(), 0, chunk.length());
            times.add(dueNs);
        }
        return times;
    }

    @ParameterizedTest
    @EnumSource(LinkKind.class)
    void shouldDeliverEveryByteInOrderAndNeverBeforeItsTime(LinkKind kind) {
        LinkModel link = LinkModel.of(timing(kind, 0.002, 0.2, 115200), new SeededRandom(3));
        ByteArrayOutputStream expected = new ByteArrayOutputStream();
        for (int i = 0; i < 200; i++) {
            Frame frame = frame(i, i * 17L * MS, 44);
            queue.add(frame);
            expected.writeBytes(frame.copyOfBytes());
        }
        ByteArrayOutputStream got = new ByteArrayOutputStream();
        List<Long> times = deliverAll(link, got);
        assertArrayEquals(expected.toByteArray(), got.toByteArray());
        for (int i = 1; i < times.size(); i++) {
            assertTrue(times.get(i) >= times.get(i - 1));
        }
        assertTrue(times.get(0) >= MS / 2, "the least latency");
    }

    @Test
    void shouldDeliverAtConnectionEventsAndAtMostSoManyAtOnce() {
        LinkModel link = LinkModel.of(timing(LinkKind.INTERVAL, 0, 0, 115200), new SeededRandom(3));
        for (int i = 0; i < 7; i++) {
            queue.add(frame(i, 100 * MS, 10));
        }
        ByteArrayOutputStream got = new ByteArrayOutputStream();
        List<Long> times = deliverAll(link, got);
        assertEquals(4, times.size(), "two an event");
        for (int i = 1; i < times.size(); i++) {
            assertTrue(Math.abs(times.get(i) - times.get(i - 1) - 30 * MS) <= 1);
        }
    }

    @Test
    void shouldWaitForTheNextEventWhereOneFails() {
        LinkModel link = LinkModel.of(timing(LinkKind.INTERVAL, 0, 0.3, 115200), new SeededRandom(3));
        int waited = 0;
        for (int i = 0; i < 1000; i++) {
            long handoverNs = i * 300L * MS;
            queue.add(frame(i, handoverNs, 10));
            long dueNs = link.dueNs(queue);
            waited += dueNs - handoverNs > 31 * MS ? 1 : 0;
            chunk.begin(dueNs);
            link.deliver(queue, chunk);
        }
        assertEquals(300, waited, 5 * Math.sqrt(1000 * 0.3 * 0.7));
    }

    @Test
    void shouldCutASerialStreamIntoPacketsOf62AndFlushItByTheTimer() {
        LinkModel link = LinkModel.of(timing(LinkKind.SERIAL, 0, 0, 115200), new SeededRandom(3));
        queue.add(frame(1, 100 * MS, 200));
        List<Integer> sizes = new ArrayList<>();
        List<Long> times = new ArrayList<>();
        while (link.dueNs(queue) != LinkModel.NEVER) {
            chunk.begin(link.dueNs(queue));
            link.deliver(queue, chunk);
            sizes.add(chunk.length());
            times.add(chunk.dueNs());
        }
        assertEquals(200, sizes.stream().mapToInt(Integer::intValue).sum());
        assertTrue(sizes.stream().allMatch(size -> size <= 62), sizes.toString());
        assertTrue(sizes.contains(62), sizes.toString());
        // 200 bytes of ten bits at 115200 bit/s take 17.4 ms; what is left over waits for the timer, at most 16 ms.
        long last = times.get(times.size() - 1);
        assertTrue(last >= 117 * MS && last <= 135 * MS, "last at " + last);
    }

    @Test
    void shouldLetAnAnswerGoBeforeAMessageThatIsHandedOverLater() {
        LinkModel link = LinkModel.of(timing(LinkKind.DIRECT, 0, 0, 115200), new SeededRandom(3));
        queue.add(frame(5, 50 * MS, 10));
        assertEquals(50 * MS + MS / 2, link.dueNs(queue));
        queue.add(frame(6, 20 * MS, 10));
        assertEquals(20 * MS + MS / 2, link.dueNs(queue));
    }

    @Test
    void shouldNotCutIntoAMessageThatIsPartlyDelivered() {
        LinkModel link = LinkModel.of(timing(LinkKind.SERIAL, 0, 0, 115200), new SeededRandom(3));
        queue.add(frame(5, 50 * MS, 150));
        chunk.begin(link.dueNs(queue));
        link.deliver(queue, chunk);
        queue.add(frame(6, 49 * MS, 10));
        ByteArrayOutputStream got = new ByteArrayOutputStream();
        int first = chunk.length();
        deliverAll(link, got);
        byte[] rest = got.toByteArray();
        for (int i = 0; i < rest.length; i++) {
            assertEquals(i < 150 - first ? 5 : 6, rest[i]);
        }
    }
}
