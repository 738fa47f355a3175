package io.heldmark.metric;

import static io.heldmark.metric.MetricValues.expected;
import static io.heldmark.metric.MetricValues.quantity;
import static io.heldmark.metric.MetricValues.reason;
import static io.heldmark.metric.MetricValues.uncertainty;
import static io.heldmark.metric.MetricValues.value;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotNull;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.model.ContractionFlag;
import io.heldmark.model.MetricMark;
import io.heldmark.model.Quantity;
import io.heldmark.model.TestConditions;
import io.heldmark.model.TestConditions.Cue;
import io.heldmark.model.TestConditions.EffortType;
import io.heldmark.model.TestConditions.Fixation;
import java.util.List;
import java.util.Random;
import java.util.Set;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;

/**
 * Early force, rates of force development, times and impulses of F = 400 (1 - exp(-t / 0.1 s)): against its integrals and
 * differences worked out by hand, and against {@code make_metric_values.py} (NumPy). And every gate of a rate.
 */
class RateMetricsTest {
    private static final int[] SPANS_MS = {50, 100, 150, 200, 250};
    private static final TestConditions EXPLOSIVE = TestConditions.UNKNOWN.toBuilder()
            .cue(Cue.EXPLOSIVE)
            .fixation(Fixation.RIGID)
            .ownMaximumN(400)
            .build();

    private static double rise(double t) {
        return t <= 0 ? 0 : 400 * (1 - StrictMath.exp(-t / 0.1));
    }

    private static InventedWindow explosive() {
        InventedWindow w = InventedWindow.of(1000, 1, RateMetricsTest::rise);
        w.conditions = EXPLOSIVE;
        w.bandwidthHz = 400;
        return w;
    }

    @Test
    void shouldGiveTheRatesOfTheExponentialRise() {
        InventedWindow w = explosive();
        // (F(T) - F(0)) / T by hand.
        double[] byHand = {3147.75, 2528.48, 2071.65, 1729.33, 1468.66};
        for (int i = 0; i < SPANS_MS.length; i++) {
            int ms = SPANS_MS[i];
            double rate = value(new MeanRate(ms, false), w);
            assertEquals(byHand[i], rate, 5e-3);
            assertEquals(expected("rfd.exp." + ms + "ms"), rate, 1e-6);
            assertEquals(expected("rfd.per-peak.exp." + ms + "ms"), value(new MeanRate(ms, true), w), 1e-9);
            assertEquals(rate * ms * 1e-3, value(new ForceAt(ms), w), 1e-9);
        }
        assertEquals(3625.4, value(new PeakRate(), w), 5e-2);
        assertEquals(expected("rfd.peak.20ms.exp"), value(new PeakRate(), w), 1e-6);
    }

    @Test
    void shouldGiveTheTimesAndImpulsesOfTheExponentialRise() {
        InventedWindow w = explosive();
        // tau ln 2 and tau ln 10 of the plateau; the peak is a mean, 0.03 N under it.
        assertEquals(0.06931, value(new TimeToShare(50), w), 1e-5);
        assertEquals(0.23026, value(new TimeToShare(90), w), 1e-4);
        assertEquals(expected("time.exp.50"), value(new TimeToShare(50), w), 1e-9);
        assertEquals(expected("time.exp.90"), value(new TimeToShare(90), w), 1e-9);
        // 400 (T - tau (1 - exp(-T / tau))) = 14.71518 and 45.41341 N s; trapezoids of 1 ms give 14.71497.
        assertEquals(14.71497, value(new EarlyImpulse(100), w), 5e-6);
        assertEquals(45.41341, value(new EarlyImpulse(200), w), 5e-4);
        assertEquals(expected("impulse.trapezoid.exp.100ms"), value(new EarlyImpulse(100), w), 1e-8);
        assertEquals(expected("impulse.trapezoid.exp.200ms"), value(new EarlyImpulse(200), w), 1e-8);
    }

    @Test
    void shouldCountFromTheRestingLevel() {
        InventedWindow raised = InventedWindow.of(1000, 1, t -> 12 + rise(t));
        raised.restingLevelN = 12;
        InventedWindow plain = explosive();
        for (Metric m : List.of(
                new ForceAt(100),
                new MeanRate(100, false),
                new PeakRate(),
                new EarlyImpulse(100),
                new TotalImpulse(),
                new TimeToPeak(),
                new TimeToShare(50))) {
            assertEquals(value(m, plain), value(m, raised), 1e-9 * value(m, plain), m.id());
        }
        assertEquals(12, value(new PeakForce(), raised) - value(new PeakForce(), plain), 1e-9, "never subtracted");
    }

    @Test
    void shouldStateWhatTheOnsetDoesToForceAndRate() {
        InventedWindow w = explosive();
        w.relativeU = 0;
        w.onsetU = 2e6;
        // dF/dt at 100 ms is 4000 exp(-1) = 1471.5 N/s: 2 ms are 2.943 N, over 100 ms 29.43 N/s.
        double slope = 4000 * StrictMath.exp(-1);
        assertEquals(slope * 0.002, uncertainty(new ForceAt(100), w), slope * 0.002 * 2e-3);
        assertEquals(slope * 0.02, uncertainty(new MeanRate(100, false), w), slope * 0.02 * 2e-3);
        assertEquals(rise(0.1) * 0.002, uncertainty(new EarlyImpulse(100), w), 1e-6);
        assertEquals(0.002, uncertainty(new TimeToShare(50), w), 1e-12);
        assertEquals(0, uncertainty(new PeakRate(), w), 1e-12);
    }

    @Test
    void shouldStateNoiseAndCalibrationOfARate() {
        InventedWindow w = explosive();
        w.relativeU = 0.002;
        w.restingNoiseN = 1;
        w.resolution = 0.5;
        // Calibration 0.2 % of the rise, two roundings, noise of one sample and of 200 resting ones; over 100 ms.
        double rise = rise(0.1);
        double variance = 4e-6 * rise * rise + 2 * 0.25 / 12 + 1 + 1 / 160.0; // 2 * 400 Hz * 0.2 s = 160 independent.
        assertEquals(Math.sqrt(variance) / 0.1, uncertainty(new MeanRate(100, false), w), 1e-6);
        // Of the share of the peak the calibration cancels.
        double share = value(new MeanRate(100, true), w);
        double peak = value(new PeakForce(), w);
        double ofRise = (2 * 0.25 / 12 + 1 + 1 / 160.0) / 0.01 / peak / peak;
        double ofPeak = share * share / peak / peak * (0.25 / 12 + 1 / 80.0);
        assertEquals(Math.sqrt(ofRise + ofPeak), uncertainty(new MeanRate(100, true), w), 1e-9);
    }

    @Test
    void shouldCoverNoiseInTimesToAShare() {
        Random random = new Random(21);
        double squares = 0;
        double sum = 0;
        int n = 200;
        double truth = -0.1 * StrictMath.log(0.5);
        for (int k = 0; k < n; k++) {
            InventedWindow w = InventedWindow.of(1000, 1, t -> rise(t) + random.nextGaussian());
            w.restingNoiseN = 1;
            Quantity q = quantity(new TimeToShare(50), w);
            double z = (q.value() - truth) / q.standardUncertainty();
            squares += z * z;
            sum += q.value() - truth;
        }
        assertTrue(squares / n < 1.5 && squares / n > 0.4, "mean square " + squares / n);
        assertEquals(0, sum / n, 2e-4, "noise must not pull the crossing early");
    }

    @Test
    void shouldRefuseARateWithTheReasonOfItsGate() {
        refused(
                "the force was to be built up, not explosive",
                EXPLOSIVE.toBuilder().cue(Cue.RAMPED));
        refused("hand-held: the hand gives way", EXPLOSIVE.toBuilder().fixation(Fixation.HAND));
        refused(
                "held by a belt whose stiffness was not checked",
                EXPLOSIVE.toBuilder().fixation(Fixation.BELT));
        refused(
                "the cue is explosive, but it is not said: that the fixation is rigid (fixation)",
                EXPLOSIVE.toBuilder().fixation(Fixation.UNKNOWN));
        refused(
                "the cue is explosive, but it is not said: the person's own maximum (own-maximum-n)",
                EXPLOSIVE.toBuilder().ownMaximumN(Double.NaN));
        refused(
                "the peak is 67 % of the person's own maximum, under 80 %",
                EXPLOSIVE.toBuilder().ownMaximumN(600));
        refused(
                "a lowering has no rate of force development",
                EXPLOSIVE.toBuilder().effortType(EffortType.ECCENTRIC));
        InventedWindow blind = explosive();
        blind.bandwidthHz = 0;
        String bandwidth = "the converter's bandwidth (bandwidth-hz; of a link: bandwidth in its address)";
        assertEquals("the cue is explosive, but it is not said: " + bandwidth, reason(new MeanRate(100, false), blind));
        blind.conditions = TestConditions.UNKNOWN.toBuilder().cue(Cue.EXPLOSIVE).build();
        assertEquals(
                "the cue is explosive, but it is not said: that the fixation is rigid (fixation); " + bandwidth
                        + "; the person's own maximum (own-maximum-n)",
                reason(new MeanRate(100, false), blind),
                "all at once, so that nobody has to ask three times");
    }

    private static void refused(String why, TestConditions.Builder conditions) {
        InventedWindow w = explosive();
        w.conditions = conditions.build();
        for (Metric m : List.of(new MeanRate(50, false), new MeanRate(250, true), new PeakRate())) {
            assertEquals(why, reason(m, w), m.id());
        }
        assertNotNull(new ForceAt(50).compute(w).quantity(), "force at a time has no gate");
    }

    @Test
    void shouldAskForTheRateThatTheSpanTakes() {
        InventedWindow slow = InventedWindow.of(500, 1, RateMetricsTest::rise);
        assertEquals("500 samples/s, over 100 ms it takes 1000", reason(new MeanRate(100, false), slow));
        assertEquals("500 samples/s, over 20 ms it takes 1000", reason(new PeakRate(), slow));
        assertEquals(expected("rfd.exp.150ms"), value(new MeanRate(150, false), slow), 1e-6);
        InventedWindow slower = InventedWindow.of(250, 1, RateMetricsTest::rise);
        assertEquals("250 samples/s, over 250 ms it takes 500", reason(new MeanRate(250, false), slower));
        InventedWindow nearly = InventedWindow.of(998, 1, RateMetricsTest::rise);
        assertNotNull(new MeanRate(50, false).compute(nearly).quantity(), "a clock that is slow by 0.2 %");
    }

    @Test
    void shouldLetTheTraceQualifyByItselfWhereNothingWasSaid() {
        InventedWindow w = InventedWindow.of(1000, 1, RateMetricsTest::rise);
        assertEquals(expected("rfd.exp.50ms"), value(new MeanRate(50, false), w), 1e-6);
        assertTrue(RateGates.conditionsUnknown(w.conditions));
        assertTrue(!RateGates.conditionsUnknown(EXPLOSIVE));
        // What was said refuses all the same.
        w.conditions =
                TestConditions.UNKNOWN.toBuilder().fixation(Fixation.HAND).build();
        assertEquals("hand-held: the hand gives way", reason(new MeanRate(50, false), w));
        w.conditions = TestConditions.UNKNOWN.toBuilder().ownMaximumN(600).build();
        assertEquals("the peak is 67 % of the person's own maximum, under 80 %", reason(new MeanRate(50, false), w));
    }

    @Test
    void shouldRefuseARateAfterABadRest() {
        assertEquals(
                "the force was not steady in the 200 ms before the onset",
                reason(new MeanRate(50, false), resting(t -> 15 * t)));
        assertEquals(
                "the force was not steady in the 200 ms before the onset",
                reason(new MeanRate(50, false), resting(t -> t > -0.1 ? 2 : 0)));
        assertNotNull(
                new MeanRate(50, false).compute(resting(t -> 4 * t)).quantity(), "0.4 N between the halves are steady");
        InventedWindow torn = explosive().without(-0.15, -0.12);
        assertEquals("the 200 ms before the onset were not seen whole", reason(new MeanRate(50, false), torn));
        InventedWindow cut = explosive().without(-0.8, -0.1);
        assertEquals("the 200 ms before the onset were not seen whole", reason(new MeanRate(50, false), cut));
        InventedWindow headless = explosive().without(-0.8, 0);
        assertEquals("the 200 ms before the onset were not seen whole", reason(new MeanRate(50, false), headless));
        assertEquals("nothing was recorded before the onset", reason(new ForceAt(50), headless));
        assertEquals("nothing was recorded before the onset", reason(new EarlyImpulse(100), headless));
    }

    private static InventedWindow resting(DoubleUnaryOperator before) {
        InventedWindow w = InventedWindow.of(1000, 1, t -> t <= 0 ? before.applyAsDouble(t) : rise(t));
        w.restingLevelN = before.applyAsDouble(-0.1);
        return w;
    }

    @Test
    void shouldRefuseARateWhereTheDetectorSaysSo() {
        String[] reasons = {
            "the onset itself was not seen",
            "there was already tension before the onset",
            "the force dipped right before it rose",
            "the force was not steady in the 200 ms before the onset",
            "ramped: the force never rose faster than 1.4 of its peak per second",
            "the onset is uncertain by more than 10 ms"
        };
        ContractionFlag[] flags = {
            ContractionFlag.ONSET_NOT_SEEN,
            ContractionFlag.PRE_TENSION,
            ContractionFlag.COUNTERMOVEMENT,
            ContractionFlag.BASELINE_UNSTABLE,
            ContractionFlag.SLOW_RISE,
            ContractionFlag.ONSET_UNCERTAIN
        };
        for (int i = 0; i < flags.length; i++) {
            InventedWindow w = explosive();
            w.flags = Set.of(flags[i], ContractionFlag.OVERLOAD);
            assertEquals(reasons[i], reason(new MeanRate(150, false), w));
        }
    }

    @Test
    void shouldRefuseWhatARampOrABriefOneCannotGive() {
        InventedWindow ramp = InventedWindow.of(1000, 2, t -> Math.max(0, Math.min(300, 150 * t)));
        String ramped = "ramped: 150 N/s over the first 100 ms, explosive is 200 N/s or more";
        assertEquals(ramped, reason(new MeanRate(250, false), ramp));
        assertEquals(ramped, reason(new PeakRate(), ramp));
        assertEquals(ramped, reason(new TimeToShare(50), ramp));
        assertEquals(22.5, value(new ForceAt(150), ramp), 1e-9);
        InventedWindow meant = explosive();
        meant.conditions = EXPLOSIVE.toBuilder().cue(Cue.RAMPED).build();
        assertEquals("the force was to be built up, not explosive", reason(new TimeToPeak(), meant));
        assertEquals("the force was to be built up, not explosive", reason(new TimeToShare(90), meant));
        InventedWindow brief = InventedWindow.of(1000, 0.12, RateMetricsTest::rise);
        assertEquals("the contraction lasts 0.12 s, shorter than 150 ms", reason(new ForceAt(150), brief));
        assertEquals("the contraction lasts 0.12 s, shorter than 150 ms", reason(new MeanRate(150, false), brief));
        InventedWindow torn = explosive().without(0.12, 0.13);
        assertEquals("samples are missing in the first 200 ms", reason(new EarlyImpulse(200), torn));
        assertNotNull(new EarlyImpulse(100).compute(torn).quantity(), "what is missing later is none of its business");
        assertEquals("samples are missing between onset and offset", reason(new TimeToShare(50), torn));
    }

    @Test
    void shouldMarkWhereItWasTakenFrom() {
        InventedWindow w = explosive();
        MetricMark slope = new MeanRate(100, false).marks(w).get(0);
        assertEquals(MetricMark.Kind.SLOPE, slope.kind());
        assertEquals(value(new MeanRate(100, false), w), (slope.toN() - slope.fromN()) / 0.1, 1e-9);
        MetricMark steepest = new PeakRate().marks(w).get(0);
        assertEquals(w.onsetNs(), steepest.fromNs());
        assertEquals(w.onsetNs() + 20_000_000, steepest.toNs());
        assertEquals(rise(0.05), new ForceAt(50).marks(w).get(0).fromN(), 1e-9);
        w.conditions = EXPLOSIVE.toBuilder().cue(Cue.RAMPED).build();
        assertEquals(List.of(), new MeanRate(100, false).marks(w));
        assertEquals(List.of(), new PeakRate().marks(w));
    }
}
