package io.heldmark.metric;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotNull;
import static org.junit.jupiter.api.Assertions.assertNull;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.model.MetricValue;
import io.heldmark.model.Quantity;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import org.junit.jupiter.api.Test;

/** Metrics against values of {@code make_metric_values.py} (NumPy, SciPy), worked examples and properties. */
class MetricTest {
    private static final Map<String, Double> EXPECTED = expected();

    /** F = 400 (1 - exp(-t / 0.1 s)) from the onset on, 0 before. */
    private static double rise(double t) {
        return t <= 0 ? 0 : 400 * (1 - StrictMath.exp(-t / 0.1));
    }

    @Test
    void shouldIntegrateTheExponentialRiseAsTheTrapezoidsOfNumpy() {
        for (int ms : new int[] {50, 100, 150, 200, 250}) {
            InventedWindow w = InventedWindow.of(1000, ms * 1e-3, MetricTest::rise);
            double found = value(new TotalImpulse(), w);
            assertEquals(EXPECTED.get("impulse.trapezoid.exp." + ms + "ms"), found, 1e-8);
            double exact = EXPECTED.get("impulse.exact.exp." + ms + "ms");
            assertEquals(exact, found, ms * 1e-3 * 1e-6 * 40000 / 12 * 1.01, "error of the rule: T dt^2 F'' / 12");
        }
    }

    @Test
    void shouldIntegrateFromAnOnsetBetweenSamples() {
        // A straight line has no error of the rule, so the part before the first sample must be right.
        InventedWindow w = InventedWindow.at(1_000_400_000L, 1000, 0.5, t -> Math.max(0, 100 * (t - 0.0002)));
        assertEquals(100 * 0.4998 * 0.4998 / 2, value(new TotalImpulse(), w), 1e-4);
    }

    @Test
    void shouldFindTheHighestTenthOfASecond() {
        InventedWindow w = InventedWindow.of(1000, 1, MetricTest::rise);
        assertEquals(EXPECTED.get("peak.exp.1s"), value(new PeakForce(), w), 1e-9);
        assertEquals(EXPECTED.get("peak.sample.exp.1s"), value(new PeakSample(), w), 1e-9);
        InventedWindow slow = InventedWindow.of(80, 1, MetricTest::rise);
        assertEquals(EXPECTED.get("peak.exp.1s.80Hz"), value(new PeakForce(), slow), 1e-9);
        InventedWindow longer = InventedWindow.of(1000, 2, MetricTest::rise);
        assertEquals(EXPECTED.get("best.1s.exp.2s"), value(new BestMean("force.mean.best-1s", 1), longer), 1e-9);
    }

    @Test
    void shouldCountTimeAndNotSamplesWhenTheRateIsNotTheNominalOne() {
        // A hump of 100 ms whose mean is known; sampled 5 % faster than the channel says.
        InventedWindow exact = InventedWindow.of(1000, 1, t -> t > 0.3 && t <= 0.4 ? 100 : 50);
        assertEquals(100, value(new PeakForce(), exact), 1e-9);
        InventedWindow fast = InventedWindow.of(1050, 1, t -> t > 0.3 && t <= 0.4 ? 100 : 50);
        fast.nominalHz = 1000;
        assertEquals(100, value(new PeakForce(), fast), 1.0);
    }

    @Test
    void shouldSayWhyAMeanIsNotComputed() {
        InventedWindow brief = InventedWindow.of(1000, 0.82, MetricTest::rise);
        assertEquals(
                "the contraction lasts 0.82 s, shorter than 1 s", reason(new BestMean("force.mean.best-1s", 1), brief));
        InventedWindow torn = InventedWindow.of(1000, 1.5, MetricTest::rise).without(0.7, 0.75);
        assertEquals(
                "samples are missing in every stretch of 1 s", reason(new BestMean("force.mean.best-1s", 1), torn));
        InventedWindow tiny = InventedWindow.of(1000, 0.05, MetricTest::rise);
        assertEquals("the contraction lasts 0.05 s, shorter than 100 ms", reason(new PeakForce(), tiny));
    }

    @Test
    void shouldNeverSpanAGap() {
        InventedWindow torn = InventedWindow.of(1000, 1, MetricTest::rise).without(0.7, 0.75);
        assertNotNull(new PeakForce().compute(torn).quantity(), "whole tenths of a second remain");
        assertEquals("samples are missing between onset and offset", reason(new TotalImpulse(), torn));
        assertEquals("samples are missing between onset and offset", reason(new PeakSample(), torn));
        assertEquals("samples are missing between onset and offset", reason(new TimeToPeak(), torn));
        InventedWindow before = InventedWindow.of(1000, 1, MetricTest::rise).without(-0.3, -0.25);
        assertNotNull(new TotalImpulse().compute(before).quantity(), "a gap before the onset is none of its business");
        // The highest stretch is just where samples are missing: the next best whole one is taken.
        InventedWindow hump = InventedWindow.of(1000, 1, t -> t >= 0.4 && t < 0.5 ? 200 : t >= 0 ? 100 : 0)
                .without(0.45, 0.452);
        assertTrue(value(new PeakForce(), hump) < 200);
        assertTrue(value(new PeakForce(), hump) >= 150 - 1e-9);
    }

    @Test
    void shouldGiveNoTimeToPeakOfARamp() {
        InventedWindow ramp = InventedWindow.of(1000, 2, t -> Math.max(0, Math.min(300, 150 * t)));
        assertEquals(
                "ramped: 150 N/s over the first 100 ms, explosive is 200 N/s or more", reason(new TimeToPeak(), ramp));
        InventedWindow peaked = InventedWindow.of(1000, 0.6, t -> t < 0 ? 0 : t < 0.3 ? 1000 * t : 600 - 1000 * t);
        assertEquals(0.2995, value(new TimeToPeak(), peaked), 1e-6);
    }

    @Test
    void shouldStateTheUncertaintyTermByTerm() {
        InventedWindow w = InventedWindow.of(1000, 1, t -> t < 0 ? 0 : 500);
        w.relativeU = 0.002;
        w.zeroU = 0.3;
        w.resolution = 0.5;
        w.restingNoiseN = 2;
        w.correlation = 4;
        // Worked by hand: (0.002*500)^2 + 0.3^2 + 0.5^2/12 + 2^2*4/100.
        assertEquals(Math.sqrt(1 + 0.09 + 0.25 / 12 + 0.16), uncertainty(new PeakForce(), w), 1e-12);
        w.bandwidthHz = 50; // 100 ms hold at most 2 * 50 * 0.1 = 10 independent samples.
        assertEquals(Math.sqrt(1 + 0.09 + 0.25 / 12 + 0.4), uncertainty(new PeakForce(), w), 1e-12);
        w.relativeU = Double.NaN;
        assertEquals(Math.sqrt(0.09 + 0.25 / 12 + 0.4), uncertainty(new PeakForce(), w), 1e-12);
        // Highest of 101 of normal noise (scipy.integrate.quad over 101 phi Phi^100): mean 2.5111, SD 0.4291. A block
        // of 10 ms is
        // one independent reading here, so that readings and blocks lift by as much.
        double u = Math.sqrt(0.09 + 0.25 / 12 + 4 * 0.4291 * 0.4291);
        assertEquals(u + 2 * 2 * 2.5111 / 2, uncertainty(new PeakSample(), w), 0.01);
    }

    @Test
    void shouldStateTheUncertaintyOfImpulseAndDuration() {
        InventedWindow w = InventedWindow.of(1000, 2, t -> t < 0 ? 0 : 500);
        w.relativeU = 0.002;
        w.zeroU = 5; // Cancels.
        w.restingNoiseN = 2;
        w.offsetU = 3e6;
        w.onsetU = 4e6;
        double noise = 4.0 / 2000 + 4.0 / 200; // Of the mean over 2 s and of the rest of 200 ms.
        double boundaries = 500 * 500 * 9e-6 + 500 * 500 * 16e-6;
        double impulse = value(new TotalImpulse(), w);
        assertEquals(1000, impulse, 0.3);
        double calibration = 0.002 * impulse;
        assertEquals(
                Math.sqrt(calibration * calibration + 4 * noise + boundaries),
                uncertainty(new TotalImpulse(), w),
                2e-3,
                "the force at the onset is drawn between 0 and 500");
        assertEquals(2, value(new Duration(), w), 1e-12);
        assertEquals(0.005, uncertainty(new Duration(), w), 1e-12);
    }

    @Test
    void shouldCoverTheNoiseThatItStates() {
        // 400 windows of a constant force in known white noise: the impulse's and resting level's errors over their u.
        Random random = new Random(11);
        double impulseSquares = 0;
        double restSquares = 0;
        int n = 400;
        for (int k = 0; k < n; k++) {
            InventedWindow w = InventedWindow.of(500, 1, t -> (t <= 0 ? 0 : 300) + 3 * random.nextGaussian());
            w.relativeU = 0;
            w.restingNoiseN = 3;
            double rest = 0;
            int from = w.onsetIndex() - 100;
            for (int i = from; i < from + 100; i++) {
                rest += w.forceN(i) / 100;
            }
            w.restingLevelN = rest;
            Quantity impulse = quantity(new TotalImpulse(), w);
            double truth = 300 * (1 - 0.5 / 500);
            impulseSquares += square((impulse.value() - truth) / impulse.standardUncertainty());
            Quantity level = quantity(new RestingLevel(), w);
            restSquares += square(level.value() / level.standardUncertainty());
        }
        // Mean squared ratio is 1 with a standard deviation of sqrt(2/400) = 0.07.
        assertEquals(1, impulseSquares / n, 0.28);
        assertEquals(1, restSquares / n, 0.28);
    }

    @Test
    void shouldScaleWithForceAndIgnoreWhen() {
        Random random = new Random(5);
        for (int k = 0; k < 50; k++) {
            double top = 20 + 1000 * random.nextDouble();
            double tau = 0.04 + 0.1 * random.nextDouble();
            double factor = 0.5 + 3 * random.nextDouble();
            long later = random.nextInt(1_000_000_000);
            double length = 0.4 + 2 * random.nextDouble();
            java.util.function.DoubleUnaryOperator f =
                    t -> t <= 0 ? 1 : 1 + top * (1 - StrictMath.exp(-t / tau)) * (1 - 0.05 * t);
            InventedWindow one = InventedWindow.at(1_000_000_000L, 1000, length, f);
            InventedWindow scaled = InventedWindow.at(1_000_000_000L, 1000, length, t -> factor * f.applyAsDouble(t));
            InventedWindow moved = InventedWindow.at(1_000_000_000L + later, 1000, length, f);
            one.restingLevelN = 1;
            moved.restingLevelN = 1;
            scaled.restingLevelN = factor;
            for (Metric m : MetricRegistry.standard().metrics()) {
                MetricValue a = m.compute(one);
                MetricValue b = m.compute(moved);
                if (a.quantity() == null) {
                    assertNull(b.quantity());
                    continue;
                }
                assertEquals(
                        a.quantity().value(),
                        b.quantity().value(),
                        1e-9 * Math.abs(a.quantity().value()),
                        m.id());
                if (m.unit().startsWith("N")) {
                    double expected = factor * a.quantity().value();
                    assertEquals(expected, value(m, scaled), 1e-9 * Math.abs(expected), m.id());
                } else if (m.compute(scaled).quantity() != null) {
                    assertEquals(a.quantity().value(), value(m, scaled), 2e-3, m.id());
                }
            }
        }
    }

    @Test
    void shouldComputeTheLogAsymmetryOfTheWorkedExamples() {
        LogAsymmetry metric = new LogAsymmetry();
        for (int[] pair : new int[][] {{412, 368}, {368, 412}, {25, 20}, {300, 300}}) {
            MetricValue a = metric.compute(force(pair[0], 0.1), force(pair[1], 0.1), CellPair.UNKNOWN);
            assertEquals(
                    EXPECTED.get("asymmetry.log." + pair[0] + "." + pair[1]),
                    a.quantity().value(),
                    1e-9);
        }
        assertEquals(
                11.294,
                metric.compute(force(412, 1), force(368, 1), CellPair.UNKNOWN)
                        .quantity()
                        .value(),
                5e-4);
        MetricValue a = metric.compute(force(412, 4.12), force(368, 3.68), CellPair.UNKNOWN);
        assertEquals(EXPECTED.get("asymmetry.u.412.368.1pct"), a.quantity().standardUncertainty(), 1e-9);
        // 0.8 % of both limbs' 1 % is one reference mass: only 0.6 % each is left.
        MetricValue common =
                new LogAsymmetry().compute(force(412, 4.12), force(368, 3.68), new CellPair(0.008, Double.NaN));
        assertEquals(100 * Math.hypot(0.006, 0.006), common.quantity().standardUncertainty(), 1e-9);
    }

    @Test
    void shouldFlipItsSignWhenLimbsAreSwapped() {
        Random random = new Random(6);
        LogAsymmetry metric = new LogAsymmetry();
        for (int k = 0; k < 100; k++) {
            MetricValue l = force(10 + 900 * random.nextDouble(), 1 + random.nextDouble());
            MetricValue r = force(10 + 900 * random.nextDouble(), 1 + random.nextDouble());
            Quantity one = metric.compute(l, r, CellPair.UNKNOWN).quantity();
            Quantity other = metric.compute(r, l, CellPair.UNKNOWN).quantity();
            assertEquals(-one.value(), other.value());
            assertEquals(one.standardUncertainty(), other.standardUncertainty(), 1e-12);
        }
    }

    @Test
    void shouldRefuseAsymmetryOfForcesThatHaveNoRatio() {
        LogAsymmetry metric = new LogAsymmetry();
        assertEquals(
                "a force is not far enough above zero for a ratio",
                metric.compute(force(-5, 0.1), force(20, 0.1), CellPair.UNKNOWN).notComputed());
        assertEquals(
                "a force is not far enough above zero for a ratio",
                metric.compute(force(400, 1), force(2, 1), CellPair.UNKNOWN).notComputed());
        assertEquals(
                "right limb: no peak force",
                metric.compute(force(400, 1), MetricValue.notComputed("force.peak", "why"), CellPair.UNKNOWN)
                        .notComputed());
        assertThrows(IllegalArgumentException.class, () -> new CellPair(Double.NaN, Double.NaN));
    }

    @Test
    void shouldRefuseTwoMetricsOfOneName() {
        assertThrows(
                IllegalArgumentException.class, () -> new MetricRegistry(List.of(new PeakForce(), new PeakForce())));
    }

    @Test
    void shouldStateTheBiasOfTheHighestSampleAsScipyHasIt() {
        assertEquals(3.2, EXPECTED.get("largest.normal.1000"), 0.05);
        assertEquals(2.4, EXPECTED.get("largest.normal.80"), 0.05);
    }

    private static MetricValue force(double value, double u) {
        return MetricValue.of("force.peak", value, u, "N");
    }

    private static double square(double x) {
        return x * x;
    }

    private static Quantity quantity(Metric m, io.heldmark.model.Window w) {
        MetricValue v = m.compute(w);
        assertNotNull(v.quantity(), m.id() + ": " + v.notComputed());
        return v.quantity();
    }

    private static double value(Metric m, io.heldmark.model.Window w) {
        return quantity(m, w).value();
    }

    private static double uncertainty(Metric m, io.heldmark.model.Window w) {
        return quantity(m, w).standardUncertainty();
    }

    private static String reason(Metric m, io.heldmark.model.Window w) {
        return m.compute(w).notComputed();
    }

    private static Map<String, Double> expected() {
        Map<String, Double> values = new HashMap<>();
        try (InputStream in = MetricTest.class.getResourceAsStream("/metric/metric_values.csv")) {
            String text = new String(in.readAllBytes(), StandardCharsets.UTF_8);
            text.lines().skip(1).forEach(line -> {
                int comma = line.indexOf(',');
                values.put(line.substring(0, comma), Double.parseDouble(line.substring(comma + 1)));
            });
            return values;
        } catch (IOException e) {
            throw new java.io.UncheckedIOException(e);
        }
    }
}
