package io.heldmark.cell;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotNull;
import static org.junit.jupiter.api.Assertions.assertNull;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Limb;
import java.util.SplittableRandom;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;

class SteadyLevelTest {
    private static final ChannelInfo CHANNEL =
            new ChannelInfo(0, "l", "d", 0, "left", Limb.LEFT, 1000, 0, 0, "count", "unknown", Double.NaN, 1);
    private static final double NOISE = 20;

    private final CellMonitor monitor = new CellMonitor(CHANNEL);
    private final SplittableRandom random = new SplittableRandom(3);

    private void feed(double seconds, DoubleUnaryOperator countsAtS) {
        for (int i = 0; i < seconds * 1000; i++) {
            monitor.add((int) Math.round(countsAtS.applyAsDouble(i / 1000.0) + NOISE * random.nextGaussian()));
        }
    }

    private SteadyLevel level(double toleranceCounts) {
        SteadyLevel level = monitor.level(3, toleranceCounts);
        assertNotNull(level);
        return level;
    }

    @Test
    void shouldTakeTheMeanOfAStillCell() {
        feed(10, s -> 500);
        SteadyLevel level = level(Double.NaN);
        assertTrue(level.still());
        assertEquals(500, level.meanCounts(), 4 * NOISE / Math.sqrt(3000));
        assertEquals(NOISE, level.sdCounts(), 1);
        assertEquals(3000, level.samples());
        assertEquals(10, level.stillS());
    }

    @Test
    void shouldSeeALoadThatSwingsOrCreeps() {
        feed(6, s -> 500 + 60 * Math.sin(2 * Math.PI * 0.7 * s));
        assertFalse(level(Double.NaN).still(), "a swing three times the noise");
        feed(6, s -> 500 + 15 * s);
        assertFalse(level(4).still(), "45 counts in 3 s where 4 matter");
        assertTrue(level(60).still(), "and where they do not");
    }

    @Test
    void shouldCountFromWhenItCameToRest() {
        feed(5, s -> 0);
        feed(4, s -> 9000);
        assertEquals(4, level(5).stillS());
    }

    @Test
    void shouldWaitForAStretchWithoutAGap() {
        feed(2, s -> 500);
        assertNull(monitor.level(3, 1));
        feed(2, s -> 500);
        monitor.beginMessage(10, 5, true, false, 1);
        assertNull(monitor.level(3, 1));
    }

    @Test
    void shouldTellAnOverloadWithinTheStretchOnly() {
        feed(1, s -> 500);
        monitor.beginMessage(10, 5, false, true, 10);
        feed(2.9, s -> 500);
        assertTrue(level(1).overloaded());
        feed(0.2, s -> 500);
        assertFalse(level(1).overloaded());
    }
}
