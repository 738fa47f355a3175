package io.heldmark.detect;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Random;
import org.junit.jupiter.api.Test;

class SegmentTest {
    private static final int HALF = 10;

    @Test
    void shouldBeTheSameInARoomThatWasUsedBefore() {
        TraceBuffer trace = new TraceBuffer(40_000);
        Random random = new Random(7);
        for (int i = 0; i < 40_000; i++) {
            trace.add(i * 1_000_000L, 50 * random.nextGaussian(), random.nextInt(50) == 0);
        }
        Segment.Room room = new Segment.Room();
        for (int size : new int[] {5000, 30, 1, 9000, 21, 20, 19, 30_000, 700}) {
            long from = random.nextInt(40_000 - size);
            Segment own = new Segment(trace, from, from + size);
            Segment shared = new Segment(trace, from, from + size, room);
            shared.smooth(HALF);
            assertEquals(size, shared.size());
            assertEquals(own.rateHz(), shared.rateHz(), 0.0);
            for (int i = 0; i < size; i++) {
                assertEquals(own.timeS(i), shared.timeS(i), 0.0);
                assertEquals(own.forceN(i), shared.forceN(i), 0.0);
                assertEquals(own.gapBefore(i), shared.gapBefore(i));
                assertEquals(own.meanN(0, i + 1), shared.meanN(0, i + 1), 0.0);
                // Its own are not worked out before, so that this is the plain formula.
                assertEquals(own.smoothN(i, HALF), shared.smoothN(i, HALF), 0.0);
            }
        }
    }

    @Test
    void shouldTakeAStraightLineAway() {
        TraceBuffer trace = new TraceBuffer(5000);
        Random random = new Random(8);
        for (int i = 0; i < 5000; i++) {
            trace.add(i * 1_000_000L, 50 * random.nextGaussian(), random.nextInt(50) == 0);
        }
        Segment whole = new Segment(trace, 100, 5000);
        for (int to : new int[] {300, 4900, 1}) {
            Segment level = whole.without(-7, 1.5, to);
            double sum = 0;
            assertEquals(to, level.size());
            for (int i = 0; i < to; i++) {
                double expected = whole.forceN(i) + 7 * (whole.timeS(i) - 1.5);
                sum += expected;
                assertEquals(expected, level.forceN(i), 0.0);
                assertEquals(sum / (i + 1), level.meanN(0, i + 1), 0.0);
                assertEquals(whole.timeS(i), level.timeS(i), 0.0);
                assertEquals(whole.gapBefore(i), level.gapBefore(i));
            }
            assertEquals(to - 1, level.indexAt(10));
        }
        assertEquals(trace.forceN(100), whole.forceN(0), 0.0, "the whole stretch stays what it was");
    }
}
