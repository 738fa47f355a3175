package io.heldmark.metric;

import static io.heldmark.metric.MetricValues.expected;
import static io.heldmark.metric.MetricValues.quantity;
import static io.heldmark.metric.MetricValues.reason;
import static io.heldmark.metric.MetricValues.uncertainty;
import static io.heldmark.metric.MetricValues.value;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotNull;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.model.MetricValue;
import io.heldmark.model.Quantity;
import io.heldmark.model.TestConditions;
import io.heldmark.model.TestConditions.Contact;
import io.heldmark.model.TestConditions.EffortType;
import io.heldmark.model.TestConditions.Gravity;
import io.heldmark.model.TestConditions.Zeroing;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;

/**
 * Holds, sets, torques, per mass and lowerings against {@code make_metric_values.py} (NumPy, SciPy) and worked examples,
 * whose arithmetic stands beside them.
 */
class WholeMetricsTest {
    private static final TestConditions NOTHING = TestConditions.UNKNOWN;

    private static double wavering(double t) {
        return 200
                - 0.8 * t
                + 3 * StrictMath.sin(2 * Math.PI * 1.3 * t)
                + 2 * StrictMath.sin(2 * Math.PI * 9 * t)
                + 1.5 * StrictMath.sin(2 * Math.PI * 50 * t + 0.4);
    }

    /** A hold that is there at once: the plateau begins 0.25 s later and ends 0.25 s before the offset. */
    private static InventedWindow hold(double rateHz, double lengthS, DoubleUnaryOperator force) {
        return InventedWindow.of(rateHz, lengthS, t -> t < 0 ? 0 : force.applyAsDouble(t));
    }

    private static InventedWindow target(InventedWindow w, double targetN) {
        w.conditions = NOTHING.toBuilder().targetForceN(targetN).build();
        return w;
    }

    @Test
    void shouldFilterAndDetrendAHoldAsScipy() {
        InventedWindow w = hold(1000, 4, WholeMetricsTest::wavering);
        assertEquals(expected("variation.hold"), value(new PlateauVariation(false), w), 1e-9);
        assertEquals(
                expected("variation.hold"), value(new PlateauVariation(true), target(w, 200)), 1e-9, "the same figure");
    }

    @Test
    void shouldGiveTheSteadinessOfTheWorkedExample() {
        // x = 100 + 2 t + 1.5 sin 2 pi t over 5 s at 100 Hz: 0.9989 % about its line, 2.78 % with the line left in.
        InventedWindow w = target(
                hold(100, 5.49, t -> 100 + 2 * (t - 0.25) + 1.5 * StrictMath.sin(2 * Math.PI * (t - 0.25))), 100);
        double found = value(new PlateauVariation(true), w);
        assertEquals(expected("variation.example"), found, 1e-9);
        assertEquals(expected("variation.example.unfiltered"), found, 5e-6, "20 Hz leave 1 Hz alone");
        assertEquals(0.99890, found, 1e-5);
        assertEquals(2.78, expected("variation.example.raw"), 1e-3);
    }

    @Test
    void shouldCallItSteadinessOnlyBelowTheMaximum() {
        InventedWindow w = hold(1000, 4, WholeMetricsTest::wavering);
        assertEquals("no target force was to be held", reason(new PlateauVariation(true), w));
        target(w, 200);
        assertEquals("a target was held: see steadiness.cv", reason(new PlateauVariation(false), w));
        w.conditions = w.conditions.toBuilder().ownMaximumN(200).build();
        assertEquals("the target is not below the person's own maximum", reason(new PlateauVariation(true), w));
        w.conditions = w.conditions.toBuilder().ownMaximumN(400).build();
        assertNotNull(new PlateauVariation(true).compute(w).quantity());
    }

    @Test
    void shouldSayWhyAHoldHasNoVariation() {
        PlateauVariation metric = new PlateauVariation(false);
        assertEquals("the force was held for 0.90 s, it takes 1 s", reason(metric, hold(1000, 1.4, t -> 200)));
        assertEquals("50 samples/s, it takes more than 50", reason(metric, hold(50, 4, t -> 200)));
        assertEquals(
                "samples are missing while the force was held",
                reason(metric, hold(1000, 4, t -> 200).without(2, 2.1)));
        assertEquals(
                "the force never reached 90 % of the target",
                reason(new PlateauVariation(true), target(hold(1000, 4, t -> 200), 300)));
        InventedWindow low = hold(1000, 4, t -> 200);
        low.conditions = NOTHING.toBuilder().effortType(EffortType.ECCENTRIC).build();
        assertEquals("a lowering has no plateau", reason(metric, low));
    }

    @Test
    void shouldStateWhatItsOwnNoiseCanMakeOfAVariation() {
        // A force as still as the device: all of the variation may be the device's.
        Random random = new Random(4);
        InventedWindow still = hold(1000, 5, t -> 200 + 2 * random.nextGaussian());
        still.restingNoiseN = 2;
        Quantity q = quantity(new PlateauVariation(false), still);
        assertTrue(q.standardUncertainty() > 0.7 * q.value(), q.toString());
        InventedWindow wavering = hold(1000, 5, t -> wavering(t) + 2 * random.nextGaussian());
        wavering.restingNoiseN = 2;
        Quantity other = quantity(new PlateauVariation(false), wavering);
        assertTrue(other.standardUncertainty() < 0.05 * other.value(), other.toString());
    }

    @Test
    void shouldGiveTheFatigueOfAHold() {
        // 400 N falling to 312 N: 22 % at the end, 11 % of the area; a little less because peak and end are means of
        // 100 ms.
        InventedWindow w = hold(100, 60, t -> 400 - 88 * t / 60);
        assertEquals(22, value(new HoldFatigue(false), w), 0.05);
        assertEquals(11, value(new HoldFatigue(true), w), 0.05);
        assertEquals(expected("fatigue.end"), value(new HoldFatigue(false), w), 1e-9);
        assertEquals(expected("fatigue.area"), value(new HoldFatigue(true), w), 1e-9);
        w.relativeU = 0.01;
        w.zeroU = 2;
        // Only the zero is left: 2 N of 400 N times 22 %.
        assertEquals(100 * 0.2197 * 2 / 399.93, uncertainty(new HoldFatigue(false), w), 1e-4);
    }

    @Test
    void shouldSayWhyAHoldHasNoFatigue() {
        HoldFatigue metric = new HoldFatigue(true);
        assertEquals("3.0 s from the peak to the release, it takes 5 s", reason(metric, hold(1000, 3, t -> 400 - t)));
        assertEquals(
                "a target was to be held: its fall is not fatigue",
                reason(metric, target(hold(100, 60, t -> 400 - t), 400)));
        assertEquals(
                "samples are missing in the hold",
                reason(metric, hold(100, 60, t -> 400 - t).without(20, 21)));
        assertNotNull(
                new HoldFatigue(false)
                        .compute(hold(100, 60, t -> 400 - t).without(20, 21))
                        .quantity(),
                "the end is whole");
    }

    @Test
    void shouldGiveTheFatigueOfASet() {
        List<MetricValue> peaks = new ArrayList<>();
        for (double n : new double[] {380, 400, 371, 355, 340}) {
            peaks.add(MetricValue.of("force.peak", n, 1, "N"));
        }
        MetricValue last = new SetFatigue(false).compute(peaks);
        assertEquals(15, last.quantity().value(), 1e-9);
        assertEquals(expected("fatigue.set.last"), last.quantity().value(), 1e-9);
        // 100 sqrt((1 / 400)^2 + (340 / 400^2)^2), 1 N each.
        assertEquals(
                100 * Math.hypot(1 / 400.0, 340 / 160000.0), last.quantity().standardUncertainty(), 1e-9);
        MetricValue mean = new SetFatigue(true).compute(peaks);
        assertEquals(expected("fatigue.set.mean"), mean.quantity().value(), 1e-9);
        // Four peaks with 1 / (5 * 400), the highest with that less 0.923 / 400.
        double highest = 1 / 2000.0 - 0.923 / 400;
        double u = 100 * Math.sqrt(4 / 4e6 + highest * highest);
        assertEquals(u, mean.quantity().standardUncertainty(), 1e-9);
    }

    @Test
    void shouldCancelTheCalibrationInASet() {
        List<MetricValue> peaks = new ArrayList<>();
        for (double n : new double[] {400, 300}) {
            InventedWindow w = hold(1000, 2, t -> n);
            w.relativeU = 0.01;
            w.zeroU = 2;
            peaks.add(new PeakForce().compute(w));
        }
        Quantity q = new SetFatigue(false).compute(peaks).quantity();
        assertEquals(25, q.value(), 1e-9);
        assertEquals(100 * 0.25 * 2 / 400, q.standardUncertainty(), 1e-9, "the zero shifts both alike");
    }

    @Test
    void shouldSayWhyASetHasNoFatigue() {
        SetFatigue metric = new SetFatigue(false);
        MetricValue force = MetricValue.of("force.peak", 400, 1, "N");
        assertEquals(
                "a set has at least two contractions",
                metric.compute(List.of(force)).notComputed());
        assertEquals(
                "contraction 2 has no peak force",
                metric.compute(List.of(force, MetricValue.notComputed("force.peak", "why")))
                        .notComputed());
        assertEquals(
                "contraction 2 has another unit",
                metric.compute(List.of(force, MetricValue.of("force.peak", 400, 1, "count")))
                        .notComputed());
        MetricValue none = MetricValue.of("force.peak", -1, 1, "N");
        assertEquals(
                "the highest peak force is not above zero",
                metric.compute(List.of(none, none)).notComputed());
    }

    private static InventedWindow torque(TestConditions.Builder conditions) {
        InventedWindow w = hold(1000, 2, t -> 380);
        w.relativeU = 0.01;
        w.conditions = conditions.build();
        return w;
    }

    private static TestConditions.Builder lever() {
        return NOTHING.toBuilder().leverArmM(0.365, 0.005);
    }

    @Test
    void shouldGiveTheTorqueOfTheWorkedExample() {
        // 380 N x 0.365 m = 138.7 N m; 1 % and 5 mm: sqrt((0.365 * 3.8)^2 + (380 * 0.005)^2) = 2.352 N m.
        InventedWindow w = torque(lever());
        assertEquals(138.7, value(new PeakTorque(), w), 1e-9);
        assertEquals(2.352, uncertainty(new PeakTorque(), w), 5e-4);
        assertEquals(
                uncertainty(new PeakTorque(), w),
                uncertainty(new PeakTorque(), torque(NOTHING.toBuilder().leverArmM(0.365, Double.NaN))),
                1e-12,
                "5 mm where nothing is said");
        // Shank and foot of 78 kg at 30 degrees below the horizontal: 78 * 0.061 * 9.80665 * 0.606 * 0.43 * cos 30 =
        // 10.53.
        double weight = 78 * 0.061 * 9.80665 * 0.606 * 0.43 * StrictMath.cos(Math.PI / 6);
        assertEquals(10.53, weight, 5e-3);
        assertEquals(
                138.7 - weight, value(new PeakTorque(), torque(lever().gravity(Gravity.SUBTRACT, weight, 0.5))), 1e-9);
        InventedWindow added = torque(lever().gravity(Gravity.ADD, weight, 0.5));
        assertEquals(138.7 + weight, value(new PeakTorque(), added), 1e-9);
        assertEquals(Math.hypot(2.3523, 0.5), uncertainty(new PeakTorque(), added), 5e-4);
        assertEquals(138.7, value(new PeakTorque(), torque(lever().gravity(Gravity.NONE))), 1e-9);
    }

    @Test
    void shouldWidenATorqueByAPullThatMayBeOff() {
        double plain = uncertainty(new PeakTorque(), torque(lever()));
        double off = uncertainty(new PeakTorque(), torque(lever().pullAngleLimitDeg(10)));
        double rms = new PullMisalignment(10).rootMeanSquare();
        assertEquals(Math.hypot(plain, 138.7 * rms), off, 1e-9);
    }

    @Test
    void shouldRefuseATorqueThatWouldBeWrong() {
        assertEquals("no lever arm is given", reason(new PeakTorque(), torque(NOTHING.toBuilder())));
        assertEquals(
                "a plate under the heel: moments of hip and knee mix",
                reason(new PeakTorque(), torque(lever().contact(Contact.HEEL_PLATE))));
        String twice = "the zero removed the limb's weight already: it is not corrected again";
        assertEquals(twice, reason(new PeakTorque(), torque(lever().gravity(Gravity.REMOVED_BY_ZERO, 10.5, 0.5))));
        assertEquals(
                twice,
                reason(
                        new PeakTorque(),
                        torque(lever().gravity(Gravity.SUBTRACT, 10.5, 0.5).zeroing(Zeroing.IN_POSTURE))));
        assertNotNull(new PeakTorque()
                .compute(torque(lever().gravity(Gravity.SUBTRACT, 10.5, 0.5).zeroing(Zeroing.UNLOADED)))
                .quantity());
        assertNotNull(new PeakTorque()
                .compute(torque(lever().gravity(Gravity.REMOVED_BY_ZERO).zeroing(Zeroing.IN_POSTURE)))
                .quantity());
        assertEquals(
                "the torque of the limb's weight is not given",
                reason(new PeakTorque(), torque(lever().gravity(Gravity.ADD))));
    }

    @Test
    void shouldDivideByMassAndSayHow() {
        InventedWindow w = torque(lever().bodyMassKg(78, 0.4));
        assertEquals(380 / 78.0, value(new PerMass(PerMass.Form.FORCE), w), 1e-12);
        assertEquals(138.7 / 78, value(new PerMass(PerMass.Form.TORQUE), w), 1e-12);
        // 78^0.67 = exp(0.67 ln 78) = 18.523.
        assertEquals(380 / 18.523, value(new PerMass(PerMass.Form.FORCE_ALLOMETRIC), w), 1e-3);
        double relative = Math.hypot(0.01, 0.67 * 0.4 / 78);
        Quantity q = quantity(new PerMass(PerMass.Form.FORCE_ALLOMETRIC), w);
        assertEquals(relative * q.value(), q.standardUncertainty(), 1e-12);
        assertEquals("N/kg^0.67", q.unit());
        assertEquals("N·m/kg", quantity(new PerMass(PerMass.Form.TORQUE), w).unit());
        InventedWindow massless = torque(lever());
        assertEquals("no body mass is given", reason(new PerMass(PerMass.Form.FORCE), massless));
        InventedWindow leverless = torque(NOTHING.toBuilder().bodyMassKg(78, 0.4));
        assertEquals("no lever arm is given", reason(new PerMass(PerMass.Form.TORQUE), leverless));
    }

    private static InventedWindow lowering() {
        InventedWindow w = hold(1000, 3, t -> t <= 2 ? 100 + 60 * t * t : 340 - 250 * (t - 2));
        w.conditions = NOTHING.toBuilder().effortType(EffortType.ECCENTRIC).build();
        return w;
    }

    @Test
    void shouldGiveTheForcesAndThePeakOfALowering() {
        InventedWindow w = lowering();
        assertEquals(expected("lowering.whole"), value(new Lowering(Lowering.Part.WHOLE), w), 1e-8);
        assertEquals(expected("lowering.first"), value(new Lowering(Lowering.Part.FIRST), w), 1e-8);
        assertEquals(expected("lowering.middle"), value(new Lowering(Lowering.Part.MIDDLE), w), 1e-8);
        assertEquals(expected("lowering.last"), value(new Lowering(Lowering.Part.LAST), w), 1e-8);
        assertEquals(1.999, value(new Lowering(Lowering.Part.PEAK_TIME), w), 0.03);
        w.conditions = NOTHING;
        assertEquals("not an eccentric lower", reason(new Lowering(Lowering.Part.WHOLE), w));
    }

    @Test
    void shouldStateWhatBoundariesDoToTheMeanOfALowering() {
        InventedWindow w = lowering();
        w.relativeU = 0;
        w.onsetU = 5e6;
        w.offsetU = 8e6;
        // (mean - F at the onset) u_on / T and (F at the offset - mean) u_off / T.
        double mean = value(new Lowering(Lowering.Part.WHOLE), w);
        double u = Math.hypot((mean - 100) * 0.005 / 3, (90 - mean) * 0.008 / 3);
        assertEquals(u, uncertainty(new Lowering(Lowering.Part.WHOLE), w), 1e-6);
    }
}
