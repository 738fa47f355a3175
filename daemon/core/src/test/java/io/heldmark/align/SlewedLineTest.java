package io.heldmark.align;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

class SlewedLineTest {
    private static final double S = 1e9;
    private static final double MS = 1e6;

    @Test
    void shouldTakeACorrectionInEvenlyWithinASecond() {
        SlewedLine line = new SlewedLine();
        line.jump(5 * MS, 0, 0, Double.NEGATIVE_INFINITY);
        line.move(3 * MS, 0, 10 * S);
        assertEquals(10 * S + 5 * MS, line.at(10 * S));
        assertEquals(2 * MS, line.restNs(9 * S));
        assertEquals(1.5 * MS, line.restNs(10.25 * S));
        assertEquals(10.5 * S + 4 * MS, line.at(10.5 * S));
        assertEquals(0, line.restNs(11 * S));
        assertEquals(12 * S + 3 * MS, line.at(12 * S));
    }

    @Test
    void shouldTakeALargeCorrectionInSoSlowlyThatTimeRunsHalfAsFastAtWorst() {
        SlewedLine line = new SlewedLine();
        line.jump(0, 0, 0, Double.NEGATIVE_INFINITY);
        line.move(-3 * S, 0, 0);
        assertEquals(3 * S, line.restNs(0));
        assertEquals(1.5 * S, line.restNs(3 * S));
        assertEquals(0, line.restNs(6 * S));
    }

    @Test
    void shouldJumpAtOnceButNotBeforeATime() {
        SlewedLine line = new SlewedLine();
        line.jump(1 * S, 0.1, 10 * S, Double.NEGATIVE_INFINITY);
        assertEquals(10 * S + 1 * S + 1 * S, line.at(10 * S));
        line.jump(0, 0, 10 * S, 10.2 * S);
        assertEquals(10.2 * S, line.at(10 * S));
        assertEquals(12 * S, line.at(12 * S));
    }

    @Test
    void shouldTellItsSlope() {
        SlewedLine line = new SlewedLine();
        line.jump(5 * MS, 1e-3, 0, Double.NEGATIVE_INFINITY);
        line.move(3 * MS, 2e-3, 10 * S);
        double gone = (line.restNs(10 * S) - line.restNs(10.5 * S)) / (0.5 * S);
        assertEquals(1 + 2e-3, line.slope(9 * S));
        assertEquals(1 + 2e-3 - gone, line.slope(10 * S), 1e-15);
        assertEquals((line.at(10.75 * S) - line.at(10.25 * S)) / (0.5 * S), line.slope(10.25 * S), 1e-12);
        assertEquals(1 + 2e-3, line.slope(11 * S));
    }

    @Test
    void shouldBeContinuousAndStrictlyIncreasingWhateverTheEstimates() {
        SplittableRandom random = new SplittableRandom(6_700_000L);
        SlewedLine line = new SlewedLine();
        line.jump(0, 0, 0, Double.NEGATIVE_INFINITY);
        double x = 0;
        for (int i = 0; i < 10_000; i++) {
            double before = line.at(x);
            if (random.nextInt(10) == 0) {
                line.move((random.nextDouble() - 0.5) * 4 * S, random.nextDouble() - 0.5, x);
                assertEquals(before, line.at(x), 0.1);
            }
            x += 2 + random.nextDouble() * S / 3;
            assertTrue(line.at(x) > before, "at step " + i);
        }
    }
}
