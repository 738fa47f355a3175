package io.heldmark.live;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.model.SampleBatch;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;

class TraceRingTest {
    private final Batches trace = new Batches(3, 1000);

    @Test
    void shouldKeepWhatWasAppended() {
        TraceRing ring = new TraceRing(3, 1e6, 1);
        ring.append(trace.next(2), 77);
        ring.append(trace.next(2, SampleBatch.GAP_BEFORE), 88);
        ring.append(trace.next(1, SampleBatch.CLOCK_RESTARTED), 99);
        ring.append(trace.next(1, SampleBatch.OVERLOAD), 99);
        assertEquals(6, ring.written());
        assertEquals(3_000_000, ring.timeNs(3));
        assertEquals(3f, ring.forceN(3));
        assertEquals(77, ring.receivedNs(1));
        assertEquals(88, ring.receivedNs(2));
        boolean[] gaps = {false, false, true, false, true, false};
        for (int i = 0; i < gaps.length; i++) {
            assertEquals(gaps[i], ring.gapBefore(i), "sample " + i);
        }
    }

    @Test
    void shouldHoldAtLeastWhatIsAskedFor() {
        assertEquals(1024, new TraceRing(0, 1e6, 1).capacity());
        assertEquals(8192, new TraceRing(0, 1e6, 8000).capacity());
        assertEquals(8192, new TraceRing(0, 1e6, 8192).capacity());
        assertEquals(16384, new TraceRing(0, 1e6, 8193).capacity());
    }

    @Test
    void shouldKnowWhatIsOverwritten() {
        TraceRing ring = new TraceRing(0, 1e6, 1024);
        for (int i = 0; i < 1024; i++) {
            ring.append(trace.next(1), 0);
        }
        assertTrue(ring.stillHolds(0));
        ring.append(trace.next(1), 0);
        assertFalse(ring.stillHolds(0));
        assertTrue(ring.stillHolds(1));
        assertEquals(1024f, ring.forceN(1024));
        assertFalse(ring.gapBefore(1024), "a place that is used again keeps nothing of before");
    }

    /** Whatever a reader has copied and the ring still holds is whole, while the writer laps it again and again. */
    @Test
    @Timeout(value = 60, unit = TimeUnit.SECONDS)
    void shouldNeverGiveAHalfWrittenCopy() throws Exception {
        TraceRing ring = new TraceRing(0, 1e6, 1024);
        AtomicBoolean ends = new AtomicBoolean();
        Thread writer = new Thread(() -> {
            SampleBatch batch = new SampleBatch(31);
            for (long n = 0; n < 3_000_000; n += batch.count) {
                batch.count = 1 + (int) (n % 31);
                for (int i = 0; i < batch.count; i++) {
                    batch.timeNs[i] = n + i;
                    batch.forceN[i] = (n + i) & 0xFFFF;
                }
                ring.append(batch, n);
            }
            ends.set(true);
        });
        writer.start();
        long whole = 0;
        long lapped = 0;
        while (!ends.get()) {
            long from = Math.max(0, ring.written() - 1000);
            long firstNs = ring.timeNs(from);
            float firstN = ring.forceN(from);
            long to = ring.written() - 1;
            long lastNs = ring.timeNs(to);
            if (to >= from && ring.stillHolds(from)) {
                assertEquals(from, firstNs);
                assertEquals((float) (from & 0xFFFF), firstN);
                assertEquals(to, lastNs);
                whole++;
            } else {
                lapped++;
            }
        }
        writer.join();
        assertTrue(whole + lapped > 0, "the reader came to read");
    }
}
