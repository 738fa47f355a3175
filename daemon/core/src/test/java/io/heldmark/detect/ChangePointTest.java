package io.heldmark.detect;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Random;
import org.junit.jupiter.api.Test;

class ChangePointTest {
    private static double[] times(int n) {
        double[] t = new double[n];
        for (int i = 0; i < n; i++) {
            t[i] = i * 1e-3;
        }
        return t;
    }

    private static double[] leaving(double[] t, double tau, double power, double size, double level) {
        double[] y = new double[t.length];
        for (int i = 0; i < t.length; i++) {
            y[i] = level + (t[i] > tau ? size * StrictMath.pow((t[i] - tau) / 0.05, power) : 0);
        }
        return y;
    }

    @Test
    void shouldFindTheMomentOfEveryPowerItKnows() {
        double[] t = times(200);
        for (double power : new double[] {1, 1.5, 2, 2.5}) {
            for (double tau : new double[] {0.1, 0.1004, 0.1237}) {
                ChangePoint fit = new ChangePoint(t, leaving(t, tau, power, 100, 30), 200, true, 1);
                assertTrue(fit.found());
                assertEquals(tau, fit.tauS(), 2.5e-4, "power " + power);
                assertEquals(30, fit.levelN(), 0.1, "tau is searched in steps of half a sample");
                assertTrue(fit.standardUncertaintyS() >= 1e-3 / Math.sqrt(12) - 1e-12, "never below the sampling");
            }
        }
    }

    @Test
    void shouldFindTheMomentOfAFall() {
        double[] t = times(200);
        ChangePoint fit = new ChangePoint(t, leaving(t, 0.12, 1, -100, 300), 200, false, 1);
        assertEquals(0.12, fit.tauS(), 2.5e-4);
        assertEquals(300, fit.levelN(), 0.05);
        assertFalse(
                new ChangePoint(t, leaving(t, 0.12, 1, -100, 300), 200, true, 1).tauS() > 0.13,
                "no rise is invented late");
    }

    @Test
    void shouldStateWhatNoiseDoesToIt() {
        double[] t = times(200);
        double squares = 0;
        int within = 0;
        int n = 300;
        Random random = new Random(1);
        for (int k = 0; k < n; k++) {
            double[] y = leaving(t, 0.12, 1, 40, 0);
            for (int i = 0; i < y.length; i++) {
                y[i] += 2 * random.nextGaussian();
            }
            ChangePoint fit = new ChangePoint(t, y, 200, true, 1);
            double error = fit.tauS() - 0.12;
            squares += error * error;
            within += Math.abs(error) <= 2 * fit.standardUncertaintyS() ? 1 : 0;
        }
        assertTrue(Math.sqrt(squares / n) < 0.008, "RMS error: " + Math.sqrt(squares / n));
        assertTrue(within >= 0.9 * n, "within 2 u: " + within + " of " + n);
    }

    @Test
    void shouldBeUnmovedByALevel() {
        double[] t = times(100);
        ChangePoint low = new ChangePoint(t, leaving(t, 0.06, 2, 50, 0), 100, true, 1);
        ChangePoint high = new ChangePoint(t, leaving(t, 0.06, 2, 50, 4096), 100, true, 1);
        assertEquals(low.tauS(), high.tauS(), 1e-9);
    }

    @Test
    void shouldFindNothingWhereNothingIs() {
        assertFalse(new ChangePoint(times(5), new double[5], 5, true, 1).found(), "too few points");
        double[] t = times(50);
        double[] falling = leaving(t, -0.001, 1, -10, 0);
        assertFalse(new ChangePoint(t, falling, 50, true, 1).found(), "a straight fall never leaves upwards");
        assertFalse(new ChangePoint(new double[0], new double[0], 0, true, 1).found());
    }
}
