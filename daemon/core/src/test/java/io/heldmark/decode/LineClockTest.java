package io.heldmark.decode;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class LineClockTest {
    private static final double MS = 1e6;

    /** Arrivals up to 16 ms late, as behind a USB adapter, on a board whose true rate differs from the declared one. */
    @ParameterizedTest
    @CsvSource({"80,80", "80,71", "80,95", "10,10.4", "500,480"})
    void shouldFollowARateThatIsNotTheDeclaredOne(double declaredHz, double trueHz) {
        LineClock clock = new LineClock(declaredHz);
        SplittableRandom random = new SplittableRandom(11);
        double periodNs = 1e9 / trueHz;
        int lines = (int) (20 * trueHz);
        double sum = 0;
        double squares = 0;
        int n = 0;
        double before = Double.NEGATIVE_INFINITY;
        for (int i = 0; i < lines; i++) {
            double takenNs = 1e9 + i * periodNs;
            clock.onRead(1, Math.round(takenNs + random.nextDouble() * Math.min(16 * MS, 0.9 * periodNs)));
            double timeNs = clock.next();
            assertTrue(timeNs > before, "time goes on");
            if (i > 0) {
                double step = timeNs - before;
                assertTrue(
                        step < 1.2 * Math.max(periodNs, 1e9 / declaredHz), "no step looks like a lost line: " + step);
            }
            before = timeNs;
            if (i > lines / 2) {
                double offMs = (timeNs - takenNs) / MS;
                sum += offMs;
                squares += offMs * offMs;
                n++;
            }
        }
        double sdMs = Math.sqrt(squares / n - sum / n * (sum / n));
        // A uniform delay of 16 ms has a standard deviation of 4.6 ms; the loop passes less than half of it.
        assertTrue(sdMs < 2.3, "jitter of the times: " + sdMs + " ms");
    }

    @Test
    void shouldBeginAnewAfterASilence() {
        LineClock clock = new LineClock(100);
        for (int i = 1; i <= 100; i++) {
            clock.onRead(1, (long) (i * 10 * MS));
            clock.next();
        }
        clock.onRead(1, (long) (2000 * MS));
        assertEquals(2000 * MS, clock.next(), MS);
    }

    @Test
    void shouldBridgeALateReadWithoutAGap() {
        LineClock clock = new LineClock(100);
        double before = 0;
        for (int i = 1; i <= 300; i++) {
            // 300 ms are held back and come at once.
            boolean held = i > 100 && i < 130;
            if (!held) {
                int lines = i == 130 ? 30 : 1;
                clock.onRead(lines, (long) (i * 10 * MS));
                for (int k = 0; k < lines; k++) {
                    double now = clock.next();
                    assertTrue(now - before < 12 * MS, "line " + i);
                    before = now;
                }
            }
        }
        assertEquals(3000 * MS, before, 2 * MS);
    }

    @Test
    void shouldNeverGoBackThroughReconnects() {
        LineClock clock = new LineClock(100);
        clock.onRead(1, (long) (500 * MS));
        double before = clock.next();
        clock.restart();
        clock.onRead(50, (long) (510 * MS)); // a backlog
        for (int i = 0; i < 50; i++) {
            double now = clock.next();
            assertTrue(now > before);
            before = now;
        }
    }
}
