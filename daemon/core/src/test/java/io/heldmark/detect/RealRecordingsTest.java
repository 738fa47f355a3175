package io.heldmark.detect;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.detect.InventedEffort.Rise;
import io.heldmark.model.Contraction;
import java.util.List;
import org.junit.jupiter.api.Test;

/** What recordings do that models do not; each case stands in {@code docs/detection.md}, section "Recordings as they are". */
class RealRecordingsTest {
    private static final double RATE_HZ = 1000;

    private static InventedTrace trace(double lengthS) {
        return new InventedTrace(RATE_HZ, lengthS, 41).noise(0.5);
    }

    /** Peak 300 N, five peaks a second at the steepest, held for a second; about 2 s from onset to offset. */
    private static InventedEffort effort(double onsetS) {
        return InventedEffort.steep(onsetS, 300, Rise.EXPONENTIAL, 5, 1);
    }

    private static List<Contraction> found(InventedTrace trace) {
        return DetectorRun.toTheEnd(trace).closed;
    }

    private static void assertOnset(double trueS, double withinS, Contraction c) {
        double errorS = c.onsetNs() * 1e-9 - trueS;
        assertEquals(0, errorS, withinS, c::toString);
        assertTrue(Math.abs(errorS) <= 3 * c.onsetStandardUncertaintyNs() * 1e-9 + 1e-4, c::toString);
    }

    private static boolean flagged(Contraction c, String flag) {
        return c.flags().contains(flag);
    }

    @Test
    void shouldLetASensorStartUp() {
        InventedTrace trace = trace(12).with(effort(6));
        trace.others.add(t -> t < 0.03 ? 900 : 0);
        trace.others.add(t -> 150 * StrictMath.exp(-t / 0.4));
        List<Contraction> found = found(trace);
        assertEquals(1, found.size());
        assertOnset(6, 0.002, found.get(0));
    }

    @Test
    void shouldManageWithAQuietTenthOfASecond() {
        for (double rest : new double[] {0.1, 0.15, 0.2, 0.3, 0.5}) {
            List<Contraction> found = found(trace(rest + 4).with(effort(rest)));
            assertEquals(1, found.size(), "rest of " + rest + " s");
            assertOnset(rest, 0.003, found.get(0));
        }
    }

    @Test
    void shouldFollowADriftOfManyNewtons() {
        for (double driftNPerS : new double[] {-1, -0.5, 0.5, 1}) {
            InventedTrace trace = trace(90).drift(driftNPerS);
            double[] at = {10, 30, 50, 80};
            for (double s : at) {
                trace.with(effort(s));
            }
            List<Contraction> found = found(trace);
            assertEquals(at.length, found.size(), "drift of " + driftNPerS + " N/s");
            for (int i = 0; i < at.length; i++) {
                assertOnset(at[i], 0.003, found.get(i));
                double levelN = driftNPerS * (at[i] - 0.1);
                assertEquals(levelN, found.get(i).restingLevelN(), 0.5);
                assertEquals(Math.abs(levelN) > 6, flagged(found.get(i), "resting-level-off-zero"), "2 % of the peak");
            }
        }
    }

    @Test
    void shouldNotTakeANegativeSwingForAnEffort() {
        InventedTrace trace = trace(20).with(effort(12));
        trace.others.add(t -> t > 4 && t < 5.5 ? -40 * StrictMath.sin(Math.PI * (t - 4) / 1.5) : 0);
        trace.others.add(t -> t > 8 && t < 9.2 ? -25 * StrictMath.sin(Math.PI * (t - 8) / 1.2) : 0);
        List<Contraction> found = found(trace);
        assertEquals(1, found.size());
        assertOnset(12, 0.002, found.get(0));
    }

    @Test
    void shouldSayThatAnOnsetAfterASwingIsUncertain() {
        InventedTrace trace = trace(20).with(effort(10));
        trace.others.add(t -> t > 8.5 && t < 9.7 ? -25 * StrictMath.sin(Math.PI * (t - 8.5) / 1.2) : 0);
        List<Contraction> found = found(trace);
        assertEquals(1, found.size());
        assertTrue(flagged(found.get(0), "onset-uncertain") || flagged(found.get(0), "pre-tension"));
        assertOnset(10, 0.015, found.get(0));
    }

    @Test
    void shouldIgnoreHandlingBetweenEfforts() {
        InventedTrace trace = trace(30).with(effort(5)).with(effort(20));
        trace.bump(9, 60, 0.05).bump(10, -80, 0.04).twitch(11, 30, 0.06).laidDown(13, 25, 0.02, 16);
        List<Contraction> found = found(trace);
        assertEquals(2, found.size());
        assertOnset(5, 0.002, found.get(0));
        assertOnset(20, 0.003, found.get(1));
    }

    /** Steps of 1 N, as converters of few bits and exports without decimals have. */
    @Test
    void shouldManageWithStepsOfOneNewton() {
        for (double noiseN : new double[] {0.05, 0.5}) {
            InventedTrace trace = new InventedTrace(RATE_HZ, 20, 43)
                    .noise(noiseN)
                    .with(effort(4))
                    .with(effort(9))
                    .with(effort(14));
            trace.stepN = 1;
            List<Contraction> found = found(trace);
            assertEquals(3, found.size(), "noise of " + noiseN + " N");
            for (int i = 0; i < 3; i++) {
                assertEquals(4 + 5 * i, found.get(i).onsetNs() * 1e-9, 0.004);
            }
        }
    }

    @Test
    void shouldFindQuickPulsesOnAPreload() {
        InventedTrace trace = trace(20);
        trace.others.add(t -> t > 3 && t < 17 ? 6 * Math.min(1, (t - 3) / 0.5) * Math.min(1, (17 - t) / 0.5) : 0);
        for (int i = 0; i < 5; i++) {
            trace.with(InventedEffort.steep(5 + 2 * i, 250, Rise.SIGMOID, 8, 0.25));
        }
        List<Contraction> found = found(trace);
        assertEquals(5, found.size());
        for (int i = 0; i < 5; i++) {
            assertOnset(5 + 2 * i, 0.005, found.get(i));
            assertEquals(6, found.get(i).restingLevelN(), 0.7, "the preload is the rest of the pulse");
            assertTrue(flagged(found.get(i), "resting-level-off-zero"));
        }
    }

    /** Half a second of rest after one offset: the tail of the release is still there, and the onset says what that costs. */
    @Test
    void shouldPartEffortsHalfASecondApart() {
        InventedTrace trace = trace(20);
        double[] at = {3, 5.6, 8.2, 10.8};
        for (double s : at) {
            trace.with(effort(s));
        }
        List<Contraction> found = found(trace);
        assertEquals(at.length, found.size());
        for (int i = 0; i < at.length; i++) {
            assertOnset(at[i], 0.03, found.get(i));
            assertEquals(i > 0, flagged(found.get(i), "onset-uncertain"));
        }
    }

    /** What is held when a trace begins is taken for rest; only an effort after it is one. */
    @Test
    void shouldNotInventTheBeginningOfATraceUnderLoad() {
        for (double begun : new double[] {0.05, 0.15, 0.5, 1.2}) {
            List<Contraction> found = found(trace(8).with(effort(-begun)).with(effort(4)));
            assertEquals(1, found.size(), "begun " + begun + " s before");
            assertOnset(4, 0.002, found.get(0));
        }
    }

    @Test
    void shouldCloseWhatATraceCutsOff() {
        List<Contraction> found = found(trace(6).with(effort(2)).with(effort(5.2)));
        assertEquals(2, found.size());
        assertFalse(flagged(found.get(0), "samples-lost"));
        assertOnset(5.2, 0.002, found.get(1));
        assertTrue(flagged(found.get(1), "samples-lost"), "its end was not seen");
        assertEquals(6, found.get(1).offsetNs() * 1e-9, 0.01);
    }
}
