package io.heldmark.importer;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.detect.ContractionDetector;
import io.heldmark.detect.DetectorConfig;
import io.heldmark.importer.RestBefore.Origin;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Contraction;
import io.heldmark.model.ContractionFlag;
import io.heldmark.model.Limb;
import io.heldmark.model.SampleBatch;
import io.heldmark.model.Window;
import java.util.SplittableRandom;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;

/** An invented effort at 3 s over rests of several kinds, found by the real detector. */
class RestBeforeTest {
    private static final double ONSET_S = 3;

    private static final class Found implements ContractionDetector.Listener {
        final RestBefore rest = new RestBefore();
        int closed;
        Origin origin = Origin.NEAR;
        double levelN = Double.NaN;
        double u = Double.NaN;
        double peakN = Double.NEGATIVE_INFINITY;
        boolean flagged;

        @Override
        public void onOpened(Contraction provisional, long atNs) {}

        @Override
        public void onClosed(Contraction finished, Window window, long atNs) {
            boolean steady = !finished.flags().contains(ContractionFlag.BASELINE_UNSTABLE.id());
            RestBefore.Base base = rest.of(window, steady);
            RelativeWindow relative = new RelativeWindow(window, base);
            closed++;
            origin = base.origin();
            levelN = base.levelN();
            u = base.standardUncertaintyN();
            flagged = relative.flags().contains(ContractionFlag.BASELINE_DISTANT);
            for (int i = 0; i < relative.size(); i++) {
                peakN = Math.max(peakN, relative.forceN(i));
            }
        }

        @Override
        public void onWithdrawn(Contraction withdrawn, long atNs) {}
    }

    private static double effort(double t) {
        double s = t - ONSET_S;
        return s <= 0 ? 0 : s < 1.5 ? 300 * (1 - Math.exp(-s / 0.15)) : 300 * Math.exp(-Math.pow((s - 1.5) / 0.1, 2));
    }

    private static Found run(double fromS, DoubleUnaryOperator restN) {
        Found found = new Found();
        ChannelInfo channel =
                new ChannelInfo(0, "x", "", 0, "a", Limb.NONE, 1000, 0, 0, "N", "unknown", Double.NaN, 0.01);
        ContractionDetector detector = new ContractionDetector(DetectorConfig.defaults(), channel, () -> 1, found);
        SplittableRandom random = new SplittableRandom(5);
        SampleBatch batch = new SampleBatch(10);
        for (int k = (int) (fromS * 1000); k < 7000; k += 10) {
            batch.count = 10;
            for (int i = 0; i < 10; i++) {
                double t = (k + i) / 1000.0;
                batch.timeNs[i] = (k + i) * 1_000_000L;
                batch.forceN[i] = restN.applyAsDouble(t) + effort(t) + 0.5 * random.nextDouble(-1.7, 1.7);
            }
            detector.onBatch(batch);
            found.rest.onBatch(batch, detector.inContraction());
        }
        detector.end(7_000_000_000L);
        assertEquals(1, found.closed);
        return found;
    }

    @Test
    void shouldTakeTheRestRightBeforeAsZero() {
        Found found = run(0, t -> 14);
        assertEquals(Origin.NEAR, found.origin);
        assertEquals(14, found.levelN, 4 * found.u);
        // White noise of 0.49 N over 200 samples: 0.035 N, times the correlation that was found.
        assertTrue(found.u > 0.02 && found.u < 0.1, () -> "u " + found.u);
        assertEquals(300, found.peakN, 2);
    }

    @Test
    void shouldTakeTheNearestEarlierQuietStretchOverAnUnsteadyRest() {
        Found found = run(0, t -> t < 2.2 ? 14 : 14 + 6 * Math.sin(2 * Math.PI * (t - 2.2) / 0.3));
        assertEquals(Origin.DISTANT, found.origin);
        assertTrue(found.flagged);
        assertEquals(14, found.levelN, 0.5);
        assertTrue(found.u > 0.02, () -> "u " + found.u);
    }

    @Test
    void shouldSayThatThereIsNoRest() {
        Found found = run(0, t -> 20 + 12 * Math.sin(2 * Math.PI * t / 0.4));
        assertEquals(Origin.NONE, found.origin);
        assertEquals(0, found.levelN);
    }
}
