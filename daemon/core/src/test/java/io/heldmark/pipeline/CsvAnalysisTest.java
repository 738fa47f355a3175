package io.heldmark.pipeline;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.config.Config;
import io.heldmark.model.Contraction;
import io.heldmark.model.Effort;
import io.heldmark.model.Limb;
import io.heldmark.model.MetricValue;
import io.heldmark.model.Quantity;
import io.heldmark.model.TestConditions;
import io.heldmark.model.TrialConditions;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Properties of the analysis of text files: what a change of units, zero, time or limb may change. */
class CsvAnalysisTest {
    @TempDir
    Path folder;

    private static final class Found implements AnalysisListener {
        final List<Contraction> contractions = new ArrayList<>();
        final List<Effort> efforts = new ArrayList<>();
        AnalysisStart start = new AnalysisStart("", "", 0, Config.defaults(), false);
        boolean ended;

        @Override
        public void onStart(AnalysisStart begins) {
            start = begins;
        }

        @Override
        public void onEnd(boolean complete, List<String> notes) {
            ended = true;
        }

        @Override
        public void onContraction(Contraction c) {
            if (c.revision() == Contraction.Revision.FINAL) {
                contractions.add(c);
            }
        }

        @Override
        public void onEffort(Effort effort) {
            efforts.add(effort);
        }
    }

    private Found analyse(String text) throws Exception {
        Path file = Files.writeString(folder.resolve("trace.csv"), text);
        CsvOptions options = new CsvOptions(
                Config.defaults(), null, null, TrialConditions.always(TestConditions.UNKNOWN), Double.NaN, 0);
        Found found = new Found();
        CsvAnalysis.run(file, options, found);
        assertTrue(found.ended);
        return found;
    }

    private static double effort(double t, double onsetS, double peakN) {
        double s = t - onsetS;
        double up = s <= 0 ? 0 : peakN * (1 - Math.exp(-Math.pow(s / 0.13, 1.5)));
        return s < 1.6 ? up : up * Math.exp(-Math.pow((s - 1.6) / 0.12, 2));
    }

    /** Two efforts of both limbs; forces times a scale, plus an offset, times from an origin. */
    private static String trace(String header, double scale, double offset, double originS) {
        StringBuilder text = new StringBuilder(header).append('\n');
        SplittableRandom random = new SplittableRandom(3);
        for (int k = 0; k < 9000; k++) {
            double t = k / 1000.0;
            double a = effort(t, 1.5, 400) + effort(t, 5.5, 380) + random.nextDouble(-0.8, 0.8);
            double b = effort(t, 1.52, 350) + effort(t, 5.51, 345) + random.nextDouble(-0.8, 0.8);
            text.append(String.format(
                    Locale.ROOT, "%.3f,%.6f,%.6f%n", originS + t, a * scale + offset, b * scale + offset));
        }
        return text.toString();
    }

    private static double metric(Contraction c, String id) {
        for (MetricValue value : c.metrics()) {
            if (value.id().equals(id)) {
                return Objects.requireNonNull(value.quantity(), id).value();
            }
        }
        throw new AssertionError("no metric " + id);
    }

    @Test
    void shouldFindBothLimbsEffortsRelativeToTheRestBefore() throws Exception {
        Found found = analyse(trace("time_s,Left,right", 1, 12, 0));
        assertEquals("restBefore", found.start.zero());
        assertEquals(4, found.contractions.size());
        assertEquals(2, found.efforts.size());
        Contraction first = found.contractions.get(0);
        assertEquals(Limb.LEFT, first.limb());
        assertEquals(12, first.restingLevelN(), 0.3);
        assertEquals(400, metric(first, "force.peak"), 1);
        assertFalse(first.flags().contains("no-zero"));
        assertFalse(first.flags().contains("resting-level-off-zero"));
        assertTrue(first.flags().contains("calibration-unknown"));
        assertEquals(100 * Math.log(400 / 350.0), asymmetry(found.efforts.get(0)), 0.5);
    }

    @Test
    void shouldNotFeelAnOffset() throws Exception {
        assertSameBut(
                analyse(trace("time_s,left,right", 1, 0, 0)), analyse(trace("time_s,left,right", 1, 250, 0)), 1, 0);
    }

    @Test
    void shouldMoveWithTheTimes() throws Exception {
        Found early = analyse(trace("time_s,left,right", 1, 0, 0));
        Found late = analyse(trace("time_s,left,right", 1, 0, 1_760_000_000));
        assertEquals(1_760_000_000_000_000_000L, late.start.originNs());
        assertEquals(early.contractions, late.contractions);
    }

    @Test
    void shouldConvertUnits() throws Exception {
        Found newtons = analyse(trace("time_s,left,right", 1, 0, 0));
        assertSameBut(newtons, analyse(trace("time_s,left[kgf],right[kgf]", 1 / 9.80665, 0, 0)), 1, 1e-4);
    }

    @Test
    void shouldMirrorWhenLimbsAreSwapped() throws Exception {
        Found plain = analyse(trace("time_s,left,right", 1, 0, 0));
        Found swapped = analyse(trace("time_s,right,left", 1, 0, 0));
        for (int i = 0; i < plain.efforts.size(); i++) {
            assertEquals(-asymmetry(plain.efforts.get(i)), asymmetry(swapped.efforts.get(i)), 1e-9);
            assertEquals(
                    -plain.efforts.get(i).onsetLagNs(), swapped.efforts.get(i).onsetLagNs());
        }
    }

    @Test
    void shouldTakeLimbsAndCalibrationFromTheOptions() throws Exception {
        Path file = Files.writeString(folder.resolve("trace.csv"), trace("time_s,a,b", 1, 0, 0));
        Found found = new Found();
        CsvAnalysis.run(
                file,
                new CsvOptions(Config.defaults(), "b", "a", TrialConditions.always(TestConditions.UNKNOWN), 0.01, 0),
                found);
        assertEquals(2, found.efforts.size());
        assertTrue(asymmetry(found.efforts.get(0)) < -10);
        Contraction first = found.contractions.get(0);
        assertFalse(first.flags().contains("calibration-unknown"));
        Quantity peak = Objects.requireNonNull(first.metrics().get(0).quantity());
        assertEquals(0.01 * peak.value(), peak.standardUncertainty(), 0.05 * peak.standardUncertainty());
    }

    @Test
    void shouldComputeNothingFromAnOnsetWithoutARest() throws Exception {
        StringBuilder text = new StringBuilder("time_s,a\n");
        for (int k = 0; k < 8000; k++) {
            double t = k / 1000.0;
            double swing = t < 3 ? 12 * Math.sin(2 * Math.PI * t / 0.4) : 0;
            text.append(String.format(Locale.ROOT, "%.3f,%.3f%n", t, 20 + swing + effort(t, 3, 300)));
        }
        Found found = analyse(text.toString());
        assertEquals(1, found.contractions.size());
        Contraction only = found.contractions.get(0);
        assertTrue(only.flags().contains("no-baseline"), only::toString);
        assertEquals(320, metric(only, "force.peak"), 2); // Relative to the zero as recorded.
        for (MetricValue value : only.metrics()) {
            boolean fromOnset = value.id().matches("(rfd|time|impulse)\\..*|force\\.at-.*|duration");
            assertTrue(!fromOnset || value.notComputed() != null, value::toString);
        }
    }

    private static double asymmetry(Effort effort) {
        return Objects.requireNonNull(effort.asymmetry().quantity()).value();
    }

    /** Same windows and metrics; forces to 1e-5 of themselves and more by an absolute error. */
    private static void assertSameBut(Found a, Found b, double timeMs, double errorN) {
        assertEquals(a.contractions.size(), b.contractions.size());
        for (int i = 0; i < a.contractions.size(); i++) {
            Contraction ca = a.contractions.get(i);
            Contraction cb = b.contractions.get(i);
            assertEquals(0, (ca.onsetNs() - cb.onsetNs()) / 1e6, timeMs);
            assertEquals(0, (ca.offsetNs() - cb.offsetNs()) / 1e6, timeMs);
            assertEquals(ca.flags(), cb.flags());
            for (String id : List.of("force.peak", "force.peak.sample", "force.mean.best-1s")) {
                double value = metric(ca, id);
                assertEquals(value, metric(cb, id), 1e-5 * value + errorN, id);
            }
        }
    }
}
