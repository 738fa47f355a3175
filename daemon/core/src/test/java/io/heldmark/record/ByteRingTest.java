package io.heldmark.record;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.sun.management.ThreadMXBean;
import java.lang.management.ManagementFactory;
import java.util.ArrayDeque;
import java.util.Arrays;
import java.util.Deque;
import java.util.Random;
import java.util.concurrent.atomic.AtomicReference;
import org.junit.jupiter.api.Test;

/** The ring between acquisition thread and recorder. */
class ByteRingTest {
    @Test
    void shouldGiveBackRandomItemsInOrderAndRefuseWhatDoesNotFit() {
        for (int seed = 0; seed < 50; seed++) {
            Random random = new Random(seed);
            ByteRing ring = new ByteRing(256);
            Deque<byte[]> model = new ArrayDeque<>();
            long usedBytes = 0;
            ByteRing.Item item = new ByteRing.Item();
            for (int step = 0; step < 2_000; step++) {
                if (random.nextBoolean()) {
                    byte[] bytes = new byte[random.nextInt(100)];
                    random.nextBytes(bytes);
                    long needed = 16L + (bytes.length + 7) / 8 * 8L;
                    boolean fits = usedBytes + needed <= 256;
                    assertEquals(fits, ring.offer(bytes.length, step & 0xFFFFFF, -step, bytes, 0, bytes.length));
                    if (fits) {
                        model.add(bytes);
                        usedBytes += needed;
                    }
                } else {
                    byte[] expected = model.poll();
                    assertEquals(expected != null, ring.read(item, ring.end()));
                    if (expected != null) {
                        assertEquals(expected.length, item.kind);
                        assertTrue(Arrays.equals(expected, Arrays.copyOf(item.bytes, item.length)), "seed " + seed);
                        usedBytes -= 16L + (expected.length + 7) / 8 * 8L;
                    }
                }
                assertEquals(256 - usedBytes, ring.freeBytes());
            }
        }
    }

    @Test
    void shouldKeepKindLinkAndTime() {
        ByteRing ring = new ByteRing(1_024);
        assertTrue(ring.offer(255, 0xFFFFFF, Long.MIN_VALUE, new byte[] {1, 2, 3}, 1, 2));
        ByteRing.Item item = new ByteRing.Item();
        assertTrue(ring.read(item, ring.end()));
        assertEquals(255, item.kind);
        assertEquals(0xFFFFFF, item.link);
        assertEquals(Long.MIN_VALUE, item.timeNs);
        assertEquals(2, item.length);
        assertEquals(3, item.bytes[1]);
    }

    @Test
    void shouldNotReadBehindTheEndThatWasAskedFor() {
        ByteRing ring = new ByteRing(1_024);
        ring.offer(1, 0, 0, new byte[1], 0, 1);
        long end = ring.end();
        ring.offer(2, 0, 0, new byte[1], 0, 1);
        ByteRing.Item item = new ByteRing.Item();
        assertTrue(ring.read(item, end));
        assertFalse(ring.read(item, end));
        assertTrue(ring.read(item, ring.end()));
    }

    @Test
    void shouldRefuseCapacitiesThatAreNoPowerOfTwo() {
        assertThrows(IllegalArgumentException.class, () -> new ByteRing(24));
        assertThrows(IllegalArgumentException.class, () -> new ByteRing(8));
    }

    /** One thread puts in, one takes out, in a ring so small that both often meet its ends. */
    @Test
    void shouldHandEveryByteOverBetweenTwoThreads() throws Exception {
        int items = 300_000;
        ByteRing ring = new ByteRing(4_096);
        AtomicReference<String> fault = new AtomicReference<>("");
        Thread consumer = new Thread(() -> consume(ring, items, fault), "consumer");
        consumer.start();
        byte[] bytes = new byte[300];
        Random random = new Random(1);
        for (int i = 0; i < items; i++) {
            int length = random.nextInt(bytes.length);
            Arrays.fill(bytes, (byte) i);
            while (!ring.offer(1, i & 0xFFFF, i, bytes, 0, length)) {
                Thread.onSpinWait();
            }
        }
        consumer.join();
        assertEquals("", fault.get());
    }

    private static void consume(ByteRing ring, int items, AtomicReference<String> fault) {
        Random random = new Random(1);
        ByteRing.Item item = new ByteRing.Item();
        for (int i = 0; i < items; i++) {
            while (!ring.read(item, ring.end())) {
                Thread.onSpinWait();
            }
            boolean same = item.length == random.nextInt(300) && item.timeNs == i && item.link == (i & 0xFFFF);
            for (int at = 0; at < item.length; at++) {
                same &= item.bytes[at] == (byte) i;
            }
            if (!same) {
                fault.compareAndSet("", "item " + i);
            }
        }
    }

    @Test
    void shouldAllocateNothingPerChunk() {
        RecorderQueue queue = new RecorderQueue(16 << 20, 2);
        byte[] bytes = new byte[64];
        ByteRing.Item item = new ByteRing.Item();
        ThreadMXBean threads = (ThreadMXBean) ManagementFactory.getThreadMXBean();
        handOver(queue, bytes, item, 50_000); // Until it is compiled.
        long before = threads.getThreadAllocatedBytes(Thread.currentThread().getId());
        handOver(queue, bytes, item, 1_000_000);
        long allocated = threads.getThreadAllocatedBytes(Thread.currentThread().getId()) - before;
        assertTrue(allocated < 100_000, "allocated " + allocated + " bytes for 1,000,000 chunks");
    }

    private static void handOver(RecorderQueue queue, byte[] bytes, ByteRing.Item item, int chunks) {
        for (int i = 0; i < chunks; i++) {
            queue.chunk(RecorderQueue.CHUNK, i & 1, i, bytes, 0, bytes.length);
            queue.ring().read(item, queue.ring().end());
        }
    }
}
