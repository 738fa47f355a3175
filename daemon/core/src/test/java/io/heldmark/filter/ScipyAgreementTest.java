package io.heldmark.filter;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.filter.FilterVectors.Case;
import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Test;

/**
 * Designs and outputs against SciPy 1.10.1 ({@code butter}, {@code iirnotch}, {@code sosfilt}, {@code sosfilt_zi},
 * {@code group_delay}); the files and the command that made them: {@link FilterVectors}.
 */
class ScipyAgreementTest {
    /** Rounding of SciPy's way (poles, then products) against our closed form; relative to the largest coefficient. */
    private static final double COEFFICIENT_TOLERANCE = 1e-13;

    /**
     * Coefficients that differ by 1e-16 change the gain of a section at zero frequency by 1e-16 over {@code 1 + a1 + a2},
     * which is 2e-6 for the lowest cutoff (0.5 Hz of 2000 Hz) and 2e-3 for the next.
     */
    private static double outputTolerance(Case c, double scale) {
        return (c.frequencyHz() / c.sampleRateHz() < 1e-3 ? 1e-9 : 2e-12) * scale;
    }

    @Test
    void shouldDesignTheSectionsOfScipyInItsOrder() {
        List<Case> cases = FilterVectors.cases("sections.csv");
        assertEquals(9 * (1 + 2 + 4) + 4, cases.size());
        for (Case c : cases) {
            double[] ours = c.filter().sections()[Integer.parseInt(c.label())];
            assertEquals(6, ours.length);
            for (int i = 0; i < 6; i++) {
                double expected = c.values()[i];
                assertEquals(
                        expected,
                        ours[i],
                        COEFFICIENT_TOLERANCE * Math.max(Math.abs(expected), i < 3 ? 0 : 1),
                        c + " [" + i + "]");
            }
        }
    }

    @Test
    void shouldRespondAsScipyToImpulseStepAndSignal() {
        List<Case> cases = FilterVectors.cases("responses.csv");
        assertEquals((9 * 3 + 4) * 4, cases.size());
        for (Case c : cases) {
            double[] y = input(c);
            BiquadCascade filter = c.filter();
            if (c.label().equals("signalPrimed")) {
                filter.prime(y[0]);
            }
            filter.process(y, 0, y.length);
            double scale = Arrays.stream(c.values()).map(Math::abs).max().orElseThrow();
            assertArrayEquals(c.values(), y, outputTolerance(c, scale), c.toString());
        }
    }

    @Test
    void shouldDelayAsScipySays() {
        List<Case> cases = FilterVectors.cases("group-delay.csv");
        assertEquals((9 * 3 + 4) * 3, cases.size());
        for (Case c : cases) {
            double atHz = Double.parseDouble(c.label());
            double samples = c.filter().groupDelayS(atHz, c.sampleRateHz()) * c.sampleRateHz();
            // SciPy divides by a value of the polynomial that loses digits where the cutoff is low.
            double tolerance = c.frequencyHz() / c.sampleRateHz() < 1e-3 ? 1e-6 : 1e-9;
            assertEquals(c.values()[0], samples, tolerance * Math.abs(c.values()[0]) + 1e-10, c.toString());
        }
    }

    @Test
    void shouldPassABlockAndSingleSamplesAlikeToTheBit() {
        double[] x = FilterVectors.signal();
        for (Case c : FilterVectors.cases("sections.csv")) {
            BiquadCascade one = c.filter();
            double[] single = Arrays.stream(x).map(one::next).toArray();
            BiquadCascade two = c.filter();
            double[] block = x.clone();
            two.process(block, 0, 7);
            two.process(block, 7, 0);
            two.process(block, 7, block.length - 7);
            assertTrue(Arrays.equals(single, block), c.toString());
        }
    }

    private static double[] input(Case c) {
        double[] y = new double[c.values().length];
        switch (c.label()) {
            case "impulse" -> y[0] = 1;
            case "step" -> Arrays.fill(y, 1);
            default -> System.arraycopy(FilterVectors.signal(), 0, y, 0, y.length);
        }
        return y;
    }
}
