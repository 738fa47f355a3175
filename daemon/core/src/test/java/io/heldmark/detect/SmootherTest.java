package io.heldmark.detect;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Random;
import org.junit.jupiter.api.Test;

class SmootherTest {
    private final TraceBuffer raw = new TraceBuffer(4096);
    private final Smoother smoother = new Smoother(raw, 0.02, 1000, 2);

    private boolean add(int i, double forceN, boolean gap) {
        raw.add(i * 1_000_000L, forceN, gap);
        return smoother.next();
    }

    @Test
    void shouldAverageTwentyMillisecondsAndStampTheMiddle() {
        for (int i = 0; i < 19; i++) {
            assertFalse(add(i, i, false));
        }
        assertTrue(add(19, 19, false));
        assertEquals(9.5, smoother.means().forceN(0), 1e-12);
        assertEquals(9_500_000L, smoother.means().timeNs(0));
        assertEquals(9_500_000, smoother.halfSpanNs(), 1e-6);
    }

    @Test
    void shouldNotHearHumOfFiftyHertz() {
        for (int i = 0; i < 500; i++) {
            add(i, 7 + 6 * StrictMath.sin(2 * Math.PI * 50 * i / 1000.0 + 1), false);
        }
        for (long p = 0; p < smoother.means().end(); p++) {
            assertEquals(7, smoother.means().forceN(p), 1e-9);
        }
    }

    @Test
    void shouldBeSilentAfterAGapUntilItsSpanIsFull() {
        for (int i = 0; i < 30; i++) {
            add(i, 1, false);
        }
        long before = smoother.means().end();
        for (int i = 0; i < 19; i++) {
            assertFalse(add(100 + i, 50, i == 0));
        }
        assertTrue(add(119, 50, false));
        assertEquals(50, smoother.means().forceN(before), 1e-12, "nothing of before the gap is in it");
        assertTrue(smoother.means().gapBefore(before));
        assertTrue(Double.isNaN(smoother.difference(20)), "no difference spans a gap");
    }

    @Test
    void shouldNotDriftAwayOverMillionsOfSamples() {
        Random random = new Random(2);
        for (int i = 0; i < 2_000_000; i++) {
            add(i, 1e6 * random.nextDouble(), false);
        }
        double exact = raw.meanN(raw.end() - 20, raw.end());
        assertEquals(exact, smoother.means().forceN(smoother.means().end() - 1), 1e-8);
    }

    @Test
    void shouldGiveTheDifferenceOfMeansThatDoNotOverlap() {
        for (int i = 0; i < 100; i++) {
            add(i, 3.0 * i, false);
        }
        assertEquals(60, smoother.difference(20), 1e-9);
    }

    @Test
    void shouldGiveTheSameBitsWhereOnlyTheMeansToBeKeptAreTaken() {
        Smoother kept = new Smoother(raw, 0.02, 1000, 0.3);
        Random random = new Random(4);
        int wait = 0;
        for (int i = 0; i < 60_000; i++) {
            boolean gap = random.nextInt(4000) == 0;
            if (gap) {
                kept.catchUpKept(); // Before the samples that follow the gap, as is asked.
            }
            add(i, 100 * random.nextDouble(), gap);
            if (wait-- == 0) {
                wait = random.nextInt(random.nextBoolean() ? 30 : 3500);
                kept.catchUpKept();
                long end = smoother.means().end();
                long shift = end - kept.means().end();
                for (long p = Math.max(0, end - Math.min(kept.means().end(), 320)); p < end; p++) {
                    assertEquals(smoother.means().forceN(p), kept.means().forceN(p - shift), 0.0);
                    assertEquals(smoother.means().timeNs(p), kept.means().timeNs(p - shift));
                    assertEquals(smoother.means().gapBefore(p), kept.means().gapBefore(p - shift));
                }
                assertTrue(kept.means().end() >= Math.min(end, 320), "as many as are to be kept");
                assertEquals(smoother.steady(40), kept.steady(40));
            }
        }
    }

    @Test
    void shouldGiveTheSameBitsWhereMeansAreTakenLater() {
        Smoother later = new Smoother(raw, 0.02, 1000, 1);
        Random random = new Random(3);
        int wait = 0;
        for (int i = 0; i < 10_000; i++) {
            add(i, 100 * random.nextDouble(), random.nextInt(1500) == 0);
            if (wait-- == 0) {
                wait = random.nextInt(200);
                later.catchUp();
                long end = smoother.means().end();
                assertEquals(end, later.means().end());
                for (long p = Math.max(0, end - 200); p < end; p++) {
                    assertEquals(smoother.means().forceN(p), later.means().forceN(p), 0.0);
                    assertEquals(smoother.means().timeNs(p), later.means().timeNs(p));
                    assertEquals(smoother.means().gapBefore(p), later.means().gapBefore(p));
                }
                assertEquals(smoother.difference(20), later.difference(20), 0.0);
            }
        }
    }
}
