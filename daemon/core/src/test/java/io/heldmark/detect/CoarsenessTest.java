package io.heldmark.detect;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.detect.InventedEffort.Rise;
import io.heldmark.model.Contraction;
import org.junit.jupiter.api.Test;

/** What the steps of a trace hide, by hand on straight rises and over all shapes of rise on invented efforts. */
class CoarsenessTest {
    private static final double SLOPE_N_PER_S = 100;

    /** At rest for 1 s, then up evenly, at 1 kHz. */
    private static Segment rise(double offsetN, double stepN) {
        TraceBuffer buffer = new TraceBuffer(2048);
        for (int i = 0; i < 2000; i++) {
            double forceN = offsetN + Math.max(0, i - 1000) * SLOPE_N_PER_S / 1000;
            buffer.add(i * 1_000_000L, stepN > 0 ? stepN * Math.rint(forceN / stepN) : forceN, false);
        }
        return new Segment(buffer, 0, 2000);
    }

    @Test
    void shouldLastUntilTwoStepsAreLeftBehind() {
        // Rounded to even newtons, 2 N is first read at a force of 1.5 N, 15 ms after the onset at 100 N/s.
        assertEquals(0.015, Coarseness.hiddenS(rise(0, 1), 900, 1200, 1.0, 0, 0), 1e-3);
    }

    @Test
    void shouldNotLetAShortStretchHideLess() {
        assertEquals(0.015, Coarseness.hiddenS(rise(0, 1), 900, 1007, 1.0, 0, 0), 1e-3);
    }

    @Test
    void shouldBeNothingWhereNoiseMovesTheReadings() {
        assertEquals(0, Coarseness.hiddenS(rise(0, 1), 900, 1200, 1.0, 0, 0.5));
    }

    @Test
    void shouldBeNothingWithoutSteps() {
        assertTrue(Coarseness.hiddenS(rise(0, 0), 900, 1200, 1.0, 0, 0) < 0.003);
        assertEquals(0, Coarseness.hiddenS(rise(0, 1), 100, 900, 0.5, 0, 0));
    }

    @Test
    void shouldLetStatedUncertaintiesCoverTheTruthInSteps() {
        for (double noise : new double[] {0, 0.1, 0.25}) {
            for (double heightN : new double[] {60, 150, 600}) {
                int efforts = 0;
                int covered = 0;
                for (double rateHz : new double[] {100, 1000}) {
                    for (Rise shape : Rise.values()) {
                        for (int seed = 1; seed <= 3; seed++) {
                            efforts++;
                            covered += covers(rateHz, shape, heightN, noise, seed) ? 1 : 0;
                        }
                    }
                }
                assertTrue(covered >= 0.9 * efforts, covered + " of " + efforts + ": " + noise + ", " + heightN);
            }
        }
    }

    private static boolean covers(double rateHz, Rise shape, double heightN, double noiseN, int seed) {
        InventedEffort effort = InventedEffort.steep(4, heightN, shape, 2 + 2 * seed, 1.5);
        InventedTrace trace = new InventedTrace(rateHz, 9, seed).noise(noiseN);
        trace.others.add(t -> 0.21 * seed); // Rest lies elsewhere between two steps
        Contraction found =
                DetectorRun.match(effort, DetectorRun.toTheEnd(trace.coarse(1).with(effort)).closed);
        return found != null
                && Math.abs(found.onsetNs() - effort.onsetS() * 1e9) <= 2 * found.onsetStandardUncertaintyNs();
    }
}
