package io.heldmark.align;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

class DelaySplitTest {
    private static final double MS = 1e6;

    @Test
    void shouldStateARectangleOverTheDifferencesAllowed() {
        // Rectangular over -a .. a: a / sqrt 3 (JCGM 100:2008, 4.3.7).
        assertEquals(0.9 * MS / Math.sqrt(3), DelaySplit.uncertaintyNs(0.9 * MS, 0.9 * MS, 2 * MS), 1);
        // Over 0 .. 1.5, about zero: the root of its mean square, 1.5 / sqrt 3.
        assertEquals(1.5 * MS / Math.sqrt(3), DelaySplit.uncertaintyNs(0, 1.5 * MS, 2 * MS), 1);
    }

    @Test
    void shouldTakeNoDelayLongerThanAssumedFromAWait() {
        double u = DelaySplit.uncertaintyNs(25 * MS, Double.POSITIVE_INFINITY, 2 * MS);
        assertEquals(2 * MS / Math.sqrt(3), u, 1);
    }

    @Test
    void shouldRefuseAMatchThatEitherBoundContradicts() {
        assertTrue(DelaySplit.possible(0.5 * MS, 0.5 * MS));
        assertFalse(DelaySplit.possible(-3 * MS, 5 * MS));
        assertFalse(DelaySplit.possible(5 * MS, -3 * MS));
    }
}
