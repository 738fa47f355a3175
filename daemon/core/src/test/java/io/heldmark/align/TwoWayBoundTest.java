package io.heldmark.align;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

class TwoWayBoundTest {
    private static final double S = 1e9;
    private static final double MS = 1e6;

    /** True line at zero; pings sent so long before they are received. */
    private static TwoWayBound bound(double... delaysNs) {
        TwoWayBound bound = new TwoWayBound();
        for (int i = 0; i < delaysNs.length; i++) {
            bound.add(i * S, -delaysNs[i], 0);
        }
        bound.fit();
        return bound;
    }

    private static double[] constant(int n, double delayNs) {
        double[] delays = new double[n];
        java.util.Arrays.fill(delays, delayNs);
        return delays;
    }

    @Test
    void shouldWaitForEnoughPings() {
        assertFalse(bound(constant(TwoWayBound.ENOUGH - 1, MS)).ready());
        TwoWayBound enough = bound(constant(TwoWayBound.ENOUGH, MS));
        assertTrue(enough.ready());
        enough.clear();
        assertFalse(enough.ready());
    }

    @Test
    void shouldHalveTheTwoWayTimeWhereNothingIsHidden() {
        TwoWayBound bound = bound(constant(20, MS));
        bound.solve(MS, 0, 0, 19 * S, 0);
        assertEquals(-MS, bound.lineOffset());
        assertEquals(0, bound.offset());
        assertEquals(0, bound.standingNs2());
        // Equal ways are assumed: rectangular over 0 to 2 ms about 1 ms (GUM 4.3.7).
        assertEquals(MS / Math.sqrt(3), bound.constantNs(), 1e-6);
        assertEquals(bound.constantNs(), bound.uncertaintyNs(), 1e-6);
    }

    /** Mean of the exponential distribution cut to the limits, against a sum over small steps. */
    @Test
    void shouldFavourShortDelaysWhereAWaitMayHide() {
        TwoWayBound bound = bound(constant(20, MS));
        double hiddenNs = 6 * MS;
        bound.solve(7 * MS, 0, 0, 19 * S, hiddenNs); // width 8 ms: the delay lies in 1 to 4 ms.
        double weights = 0;
        double weighted = 0;
        for (int i = 0; i < 300_000; i++) {
            double delayMs = 1 + (i + 0.5) * 3 / 300_000;
            double weight = StrictMath.exp(-delayMs);
            weights += weight;
            weighted += weight * delayMs;
        }
        double delayMs = weighted / weights;
        assertEquals(delayMs * MS - MS, bound.offset(), 1e-3 * MS);
        double standing = (cube(4 - delayMs) - cube(1 - delayMs)) / (3 * 3);
        assertEquals(standing * MS * MS, bound.standingNs2(), 1e-3 * MS * MS);
        double highest = Math.max(delayMs, Math.min(8, 2 * delayMs + 6));
        double constant = (cube(highest - delayMs) + cube(delayMs)) / (3 * highest);
        assertEquals(Math.sqrt(constant) * MS, bound.constantNs(), 1e-3 * MS);
    }

    private static double cube(double value) {
        return value * value * value;
    }

    @Test
    void shouldGrowWithTheLeverOfTheSkewAndWhereBoundsCross() {
        TwoWayBound bound = bound(constant(20, MS));
        bound.solve(MS, 0, 1e-6, 119 * S, 0);
        double lever = 1e-6 * 100 * S;
        assertEquals(Math.sqrt(MS * MS / 3 + lever * lever), bound.uncertaintyNs(), 1e-6);
        bound.solve(-3 * MS, 0, 0, 19 * S, 0);
        assertEquals(-2 * MS, bound.offset(), 1e-6); // In the middle of bounds that cross by 2 ms.
        assertEquals(2 * MS, bound.uncertaintyNs(), 1e-6);
    }

    @Test
    void shouldFindTheHighestOfAllPings() {
        SplittableRandom random = new SplittableRandom(6_800_000L);
        double[] delays = new double[200];
        double least = Double.POSITIVE_INFINITY;
        for (int i = 0; i < delays.length; i++) {
            delays[i] = MS + 10 * MS * random.nextDouble();
            least = Math.min(least, delays[i]);
        }
        TwoWayBound bound = bound(delays);
        bound.solve(MS, 0, 0, 199 * S, 0);
        assertEquals(-least, bound.lineOffset());
    }
}
