package io.heldmark.detect;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.model.SampleBatch;
import java.util.Random;
import org.junit.jupiter.api.Test;

class TraceBufferTest {
    @Test
    void shouldKeepTheNewestSamples() {
        TraceBuffer ring = new TraceBuffer(8);
        for (int i = 0; i < 20; i++) {
            ring.add(i * 10L, i, i == 15);
        }
        assertEquals(12, ring.first());
        assertEquals(20, ring.end());
        assertEquals(120, ring.timeNs(12));
        assertEquals(19, ring.forceN(19));
        assertTrue(ring.gapBefore(15));
        assertFalse(ring.gapBefore(16));
    }

    @Test
    void shouldHoldAtLeastWhatWasAsked() {
        for (int asked : new int[] {1, 2, 3, 7, 8, 9, 1000}) {
            assertTrue(new TraceBuffer(asked).capacity() >= asked);
        }
        assertThrows(IllegalArgumentException.class, () -> new TraceBuffer(0));
    }

    @Test
    void shouldFindPositionsByTimeLikeALinearSearch() {
        findPositionsLikeALinearSearch(64, 40);
        findPositionsLikeALinearSearch(64, 200);
        findPositionsLikeALinearSearch(8192, 5000); // Longer than the first step back from the end.
        findPositionsLikeALinearSearch(4096, 10_000);
    }

    private static void findPositionsLikeALinearSearch(int capacity, int samples) {
        Random random = new Random(3);
        TraceBuffer ring = new TraceBuffer(capacity);
        long t = 0;
        for (int i = 0; i < samples; i++) {
            t += 1 + random.nextInt(50);
            ring.add(t, 0, false);
        }
        for (int k = 0; k < 500; k++) {
            long at = random.nextInt((int) t + 100);
            long expected = ring.first();
            while (expected < ring.end() && ring.timeNs(expected) < at) {
                expected++;
            }
            assertEquals(expected, ring.positionAtOrAfter(at));
        }
    }

    @Test
    void shouldMarkAGapBeforeTheFirstSampleOfABatchOnly() {
        TraceBuffer ring = new TraceBuffer(8);
        SampleBatch batch = new SampleBatch(3);
        batch.count = 2;
        batch.flags = SampleBatch.GAP_BEFORE;
        batch.timeNs[1] = 1;
        batch.forceN[0] = 3;
        batch.forceN[1] = 5;
        ring.add(batch);
        assertTrue(ring.gapBefore(0));
        assertFalse(ring.gapBefore(1));
        assertEquals(4, ring.meanN(0, 2));
        ring.shiftZero(1);
        assertEquals(3, ring.meanN(0, 2));
        ring.clear();
        assertEquals(0, ring.end());
    }

    @Test
    void shouldCopyAcrossTheEndOfTheRing() {
        TraceBuffer buffer = new TraceBuffer(8);
        for (int i = 0; i < 13; i++) {
            buffer.add(10L * i, i, i % 5 == 0);
        }
        long[] times = new long[6];
        double[] forces = new double[6];
        boolean[] gaps = new boolean[6];

        buffer.copy(6, 12, times, forces, gaps);

        for (int i = 0; i < 6; i++) {
            assertEquals(10L * (6 + i), times[i]);
            assertEquals(6 + i, forces[i]);
            assertEquals((6 + i) % 5 == 0, gaps[i]);
        }
    }
}
