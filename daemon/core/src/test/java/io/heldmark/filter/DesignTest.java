package io.heldmark.filter;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

/** Properties that define the designs, and what is refused. */
class DesignTest {
    /** Butterworth's magnitude, {@code |H|^2 = 1 / (1 + (tan(pi f / fs) / tan(pi fc / fs))^(2N))}, the pre-warped form. */
    @Test
    void shouldHaveButterworthMagnitude() {
        for (int order : new int[] {2, 4, 8}) {
            for (double cutoffHz : new double[] {5, 20, 90, 240}) {
                double[][] sections = Butterworth.lowPass(order, cutoffHz, 500).sections();
                for (double f : new double[] {0, 1, cutoffHz / 2, cutoffHz, 1.5 * cutoffHz}) {
                    if (f >= 250) {
                        continue;
                    }
                    double ratio = Math.tan(Math.PI * f / 500) / Math.tan(Math.PI * cutoffHz / 500);
                    double expected = 1 / Math.sqrt(1 + Math.pow(ratio, 2 * order));
                    assertEquals(expected, gain(sections, f, 500), 1e-9, order + " " + cutoffHz + " " + f);
                }
            }
        }
    }

    @Test
    void shouldRemoveTheNotchAndKeepTheRest() {
        double[][] sections = Notch.at(50, 30, 1000).sections();
        assertEquals(0, gain(sections, 50, 1000), 1e-9);
        assertEquals(1, gain(sections, 0, 1000), 1e-12);
        assertEquals(1, gain(sections, 500, 1000), 1e-12);
        assertEquals(1, gain(sections, 10, 1000), 1e-3);
        // -3 dB at the edges of a band of 50 Hz / 30; the edges lie evenly around it but for the warping.
        assertEquals(1 / Math.sqrt(2), gain(sections, 50 - 25.0 / 30, 1000), 5e-3);
        assertEquals(1 / Math.sqrt(2), gain(sections, 50 + 25.0 / 30, 1000), 5e-3);
    }

    @Test
    void shouldRefuseACutoffOutsideTheBandAndNameIt() {
        // SciPy refuses the same: "Digital filter critical frequencies must be 0 < Wn < fs/2".
        for (double cutoffHz : new double[] {0, -1, 1e-4, 40, 50, Double.NaN, Double.POSITIVE_INFINITY}) {
            IllegalArgumentException e =
                    assertThrows(IllegalArgumentException.class, () -> Butterworth.lowPass(2, cutoffHz, 80));
            assertTrue(e.getMessage().contains("cutoffHz=" + cutoffHz), e.getMessage());
        }
        for (double frequencyHz : new double[] {0, -1, 40, 50, Double.NaN, Double.POSITIVE_INFINITY}) {
            assertThrows(IllegalArgumentException.class, () -> Notch.at(frequencyHz, 30, 80));
        }
    }

    @Test
    void shouldStillPassASteadyForceAtTheLowestAndHighestCutoff() {
        for (int order : new int[] {2, 4, 8}) {
            assertEquals(1, gain(Butterworth.lowPass(order, 1e-5 * 80, 80).sections(), 0, 80), 1e-5);
            assertEquals(1, gain(Butterworth.lowPass(order, 39.999, 80).sections(), 0, 80), 1e-12);
        }
    }

    @Test
    void shouldRefuseOtherOrdersRatesAndQualities() {
        for (int order : new int[] {-2, 0, 1, 3, 5, 6, 10}) {
            IllegalArgumentException e =
                    assertThrows(IllegalArgumentException.class, () -> Butterworth.lowPass(order, 10, 1000));
            assertTrue(e.getMessage().contains("order=" + order), e.getMessage());
        }
        for (double rateHz : new double[] {0, -1000, Double.NaN, Double.POSITIVE_INFINITY}) {
            assertThrows(IllegalArgumentException.class, () -> Butterworth.lowPass(2, 10, rateHz));
            assertThrows(
                    IllegalArgumentException.class,
                    () -> Butterworth.lowPass(2, 10, 1000).dcGroupDelayS(rateHz));
        }
        for (double q : new double[] {0, 0.5, -3, Double.NaN, Double.POSITIVE_INFINITY}) {
            assertThrows(IllegalArgumentException.class, () -> Notch.at(50, q, 1000));
        }
        BiquadCascade filter = Butterworth.lowPass(2, 10, 1000);
        assertThrows(IllegalArgumentException.class, () -> filter.groupDelayS(501, 1000));
        assertThrows(IllegalArgumentException.class, () -> filter.groupDelayS(Double.NaN, 1000));
    }

    /** Magnitude by the definition, evaluated on the unit circle. */
    private static double gain(double[][] sections, double frequencyHz, double rateHz) {
        double w = 2 * Math.PI * frequencyHz / rateHz;
        double gain = 1;
        for (double[] s : sections) {
            gain *= Math.hypot(
                            s[0] + s[1] * Math.cos(w) + s[2] * Math.cos(2 * w),
                            s[1] * Math.sin(w) + s[2] * Math.sin(2 * w))
                    / Math.hypot(
                            1 + s[4] * Math.cos(w) + s[5] * Math.cos(2 * w),
                            s[4] * Math.sin(w) + s[5] * Math.sin(2 * w));
        }
        return gain;
    }
}
