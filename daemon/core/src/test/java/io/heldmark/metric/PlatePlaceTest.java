package io.heldmark.metric;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Limb;
import io.heldmark.model.MetricValue;
import io.heldmark.model.PlateForces;
import io.heldmark.model.Quantity;
import io.heldmark.model.ZeroReference;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.SplittableRandom;
import java.util.function.DoubleUnaryOperator;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;

class PlatePlaceTest {
    private static final double[] X = {-200, 200, -200, 200};
    private static final double[] Y = {-150, -150, 150, 150};
    private static final double[] SHARES = {0.4, 0.3, 0.2, 0.1};
    private static final double GAIN_U = 0.004;
    private static final double ZERO_U = 0.4;
    private static final double NOISE_N = 2;
    private static final double PLACE_U_MM = 1.5;

    private static double peaked(double t) {
        return t <= 0 ? 0 : Math.max(0, 300 - 200 * Math.abs(t - 0.8));
    }

    private static InventedWindow window(
            DoubleUnaryOperator force, @Nullable SplittableRandom random, @Nullable String notMeasured) {
        InventedWindow w = InventedWindow.of(500, 1.6, force);
        double[][] forceN = new double[4][w.size()];
        List<PlateForces.Cell> cells = new ArrayList<>();
        for (int i = 0; i < 4; i++) {
            double gain = random == null ? 1 : 1 + GAIN_U * random.nextGaussian();
            double zeroN = random == null ? 0 : ZERO_U * random.nextGaussian();
            for (int k = 0; k < w.size(); k++) {
                double noiseN = NOISE_N * (random == null ? (k % 2 == 0 ? 1 : -1) : random.nextGaussian());
                forceN[i][k] = gain * SHARES[i] * w.forceN(k) + zeroN + noiseN;
            }
            ChannelInfo info =
                    new ChannelInfo(i, "cell", "d", i, "c" + i, Limb.NONE, 500, 0, 2000, "N", "factory", GAIN_U, 0);
            ZeroReference zero = ZeroReference.taken(3, ZERO_U, w.onsetNs());
            double offX = random == null ? 0 : PLACE_U_MM * random.nextGaussian();
            double offY = random == null ? 0 : PLACE_U_MM * random.nextGaussian();
            cells.add(new PlateForces.Cell(info, zero, 1, X[i] + offX, Y[i] + offY));
        }
        w.plate = new PlateForces(cells, forceN, 20, PLACE_U_MM, notMeasured);
        return w;
    }

    private static Quantity place(Metric metric, InventedWindow w) {
        return Objects.requireNonNull(metric.compute(w).quantity());
    }

    /**
     * Draws of gains, zeros, noise and places against the stated uncertainty; -40 and -60 mm by hand as in {@link PlateCentreTest}. The
     * alternating noise of the window without draws has the same standard deviation, and no part in a mean.
     */
    @Test
    void shouldStateThePlaceAndItsScatter() {
        SplittableRandom random = new SplittableRandom(20260302);
        for (boolean best : new boolean[] {false, true}) {
            for (boolean alongX : new boolean[] {true, false}) {
                PlatePlace metric = new PlatePlace(alongX, best);
                Quantity stated = place(metric, window(PlatePlaceTest::peaked, null, null));
                double truth = alongX ? -40 : -60;
                assertEquals(truth, stated.value(), 0.02, metric.id());
                int n = 3000;
                double sum = 0;
                double squares = 0;
                for (int k = 0; k < n; k++) {
                    double off = place(metric, window(PlatePlaceTest::peaked, random, null))
                                    .value()
                            - truth;
                    sum += off;
                    squares += off * off;
                }
                double scatter = Math.sqrt(squares / n);
                assertEquals(1, scatter / stated.standardUncertainty(), 0.05, metric.id());
                assertEquals(0, sum / n, 4 * scatter / Math.sqrt(n), metric.id());
            }
        }
    }

    @Test
    void shouldSayWhyThereIsNone() {
        PlatePlace metric = new PlatePlace(true, true);
        InventedWindow noPlate = InventedWindow.of(500, 1.6, PlatePlaceTest::peaked);
        assertFalse(metric.isFor(noPlate));
        assertTrue(MetricRegistry.standard().compute(noPlate).stream()
                .noneMatch(value -> value.id().startsWith("plate.")));
        assertReason(
                "a cell is not zeroed", metric.compute(window(PlatePlaceTest::peaked, null, "a cell is not zeroed")));
        assertReason("less than 20 N", metric.compute(window(t -> peaked(t) / 20, null, null)));
        assertReason(
                "samples are missing",
                metric.compute(moved(
                        window(PlatePlaceTest::peaked, null, null),
                        InventedWindow.of(500, 1.6, PlatePlaceTest::peaked).without(0.7, 0.9))));
    }

    private static InventedWindow moved(InventedWindow from, InventedWindow to) {
        to.plate = from.plate;
        return to;
    }

    private static void assertReason(String part, MetricValue value) {
        assertTrue(String.valueOf(value.notComputed()).contains(part), value::toString);
    }
}
