package io.heldmark.metric;

import static org.junit.jupiter.api.Assertions.assertEquals;

import io.heldmark.model.Quantity;
import io.heldmark.model.TestConditions;
import io.heldmark.model.TestConditions.EffortType;
import java.util.List;
import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;

/**
 * Stated uncertainties of whole metrics against simulation (JCGM 101): calibration, zero, noise, onset, offset, lever arm and
 * mass are drawn, the trace is made anew each time and measured; the scatter of the values must be what is stated, to 5 %.
 */
class MetricMonteCarloTest {
    private static final int DRAWS = 3000;
    private static final double GAIN_U = 0.004;
    private static final double ZERO_U = 1.5;
    private static final double NOISE_N = 1.2;
    private static final double ONSET_U_S = 0.001;
    private static final double OFFSET_U_S = 0.004;

    @Test
    void shouldStateTheScatterOfEarlyForces() {
        DoubleUnaryOperator rise = t -> t <= 0 ? 0 : 400 * (1 - StrictMath.exp(-t / 0.1));
        check(
                rise,
                1000,
                1,
                TestConditions.UNKNOWN,
                List.of(
                        new ForceAt(50),
                        new ForceAt(200),
                        new MeanRate(100, false),
                        new MeanRate(100, true),
                        new EarlyImpulse(100),
                        new EarlyImpulse(200)));
    }

    @Test
    void shouldStateTheScatterOfLoweringsAndTorques() {
        DoubleUnaryOperator lowering = t -> t <= 0 ? 0 : t <= 1.2 ? 60 + 200 * t : 300 - 400 * (t - 1.2);
        TestConditions conditions = TestConditions.UNKNOWN.toBuilder()
                .effortType(EffortType.ECCENTRIC)
                .build();
        check(
                lowering,
                500,
                1.6,
                conditions,
                List.of(
                        new Lowering(Lowering.Part.WHOLE),
                        new Lowering(Lowering.Part.FIRST),
                        new Lowering(Lowering.Part.MIDDLE),
                        new Lowering(Lowering.Part.LAST),
                        new TotalImpulse()));
    }

    @Test
    void shouldStateTheScatterOfTorqueAndPerMass() {
        // A narrow top, so that the highest 100 ms are always the same ones.
        DoubleUnaryOperator peaked = t -> t <= 0 ? 0 : Math.max(0, 300 - 900 * Math.abs(t - 0.3));
        check(
                peaked,
                500,
                0.6,
                TestConditions.UNKNOWN,
                List.of(
                        new PeakForce(),
                        new PeakTorque(),
                        new PerMass(PerMass.Form.FORCE),
                        new PerMass(PerMass.Form.FORCE_ALLOMETRIC),
                        new PerMass(PerMass.Form.TORQUE)));
    }

    @Test
    void shouldStateTheScatterOfFatigue() {
        DoubleUnaryOperator falling = t -> t < 0 ? 0 : t < 0.1 ? 430 : 400 - 25 * t;
        check(falling, 100, 6, TestConditions.UNKNOWN, List.of(new HoldFatigue(false), new HoldFatigue(true)));
    }

    /** Each part of ten against itself, drawn anew; gains and zeros of both cells are their own. */
    @Test
    void shouldStateTheScatterOfSymmetryParts() {
        Random random = new Random(98);
        double[] parts = new double[DRAWS];
        for (int k = 0; k < DRAWS; k++) {
            parts[k] = part(
                            held(400, 1 + GAIN_U * random.nextGaussian(), ZERO_U * random.nextGaussian(), random),
                            random)
                    .value();
        }
        InventedWindow left = held(400, 1, 0, null);
        InventedWindow right = held(350, 1, 0, null);
        Quantity exact = SymmetryCurve.of(left, right, CellPair.UNKNOWN)
                .parts()
                .get(4)
                .asymmetry()
                .quantity();
        assertEquals(1, exact.standardUncertainty() / standardDeviation(parts), 0.05);
    }

    private static Quantity part(InventedWindow left, Random random) {
        InventedWindow right = held(350, 1 + GAIN_U * random.nextGaussian(), ZERO_U * random.nextGaussian(), random);
        return SymmetryCurve.of(left, right, CellPair.UNKNOWN)
                .parts()
                .get(4)
                .asymmetry()
                .quantity();
    }

    private static InventedWindow held(double forceN, double gain, double zeroN, @Nullable Random noise) {
        InventedWindow w = InventedWindow.of(
                100,
                1,
                t -> gain * ((t < 0 ? 0 : forceN) + zeroN) + (noise == null ? 0 : NOISE_N * noise.nextGaussian()));
        said(w, TestConditions.UNKNOWN, 0.36, 74);
        return w;
    }

    /** What is stated of a variation is what noise has made of it: the mean difference with and without. */
    @Test
    void shouldStateWhatNoiseMakesOfAPlateausVariation() {
        DoubleUnaryOperator tremor = t -> t < 0 ? 0 : 400 * (1 + 0.006 * StrictMath.sin(2 * Math.PI * 7.3 * t));
        PlateauVariation metric = new PlateauVariation(false);
        Random random = new Random(99);
        InventedWindow clean = InventedWindow.of(200, 5, tremor);
        double without = MetricValues.value(metric, clean);
        int draws = 300;
        double made = 0;
        double stated = 0;
        for (int k = 0; k < draws; k++) {
            InventedWindow w = InventedWindow.of(200, 5, t -> tremor.applyAsDouble(t) + 3 * random.nextGaussian());
            w.restingNoiseN = 3;
            made += (MetricValues.value(metric, w) - without) / draws;
            stated += MetricValues.uncertainty(metric, w) / draws;
        }
        assertEquals(1, stated / made, 0.05);
    }

    @Test
    void shouldStateTheScatterOfATimeToAShare() {
        DoubleUnaryOperator quick = t -> t <= 0 ? 0 : 400 * (1 - StrictMath.exp(-t / 0.03));
        check(quick, 1000, 1, TestConditions.UNKNOWN, List.of(new TimeToShare(50)));
    }

    private static void check(
            DoubleUnaryOperator force, double rateHz, double lengthS, TestConditions conditions, List<Metric> metrics) {
        Random random = new Random(97);
        double[][] values = new double[metrics.size()][DRAWS];
        for (int k = 0; k < DRAWS; k++) {
            double gain = 1 + GAIN_U * random.nextGaussian();
            double zero = ZERO_U * random.nextGaussian();
            double late = ONSET_U_S * random.nextGaussian();
            double longer = OFFSET_U_S * random.nextGaussian() - late;
            double lever = 0.36 + 0.004 * random.nextGaussian();
            double mass = 74 + 0.6 * random.nextGaussian();
            InventedWindow w = InventedWindow.of(
                    rateHz,
                    lengthS + longer,
                    t -> gain * (force.applyAsDouble(t + late) + zero) + NOISE_N * random.nextGaussian());
            w.restingLevelN = restN(w);
            said(w, conditions, lever, mass);
            for (int m = 0; m < metrics.size(); m++) {
                values[m][k] = MetricValues.value(metrics.get(m), w);
            }
        }
        InventedWindow exact = InventedWindow.of(rateHz, lengthS, force);
        said(exact, conditions, 0.36, 74);
        for (int m = 0; m < metrics.size(); m++) {
            Quantity q = MetricValues.quantity(metrics.get(m), exact);
            double scatter = standardDeviation(values[m]);
            assertEquals(
                    1, q.standardUncertainty() / scatter, 0.05, metrics.get(m).id());
        }
    }

    private static void said(InventedWindow w, TestConditions conditions, double lever, double mass) {
        w.relativeU = GAIN_U;
        w.zeroU = ZERO_U;
        w.restingNoiseN = NOISE_N;
        w.onsetU = ONSET_U_S * 1e9;
        w.offsetU = OFFSET_U_S * 1e9;
        w.conditions = conditions.toBuilder()
                .leverArmM(lever, 0.004)
                .bodyMassKg(mass, 0.6)
                .build();
    }

    private static double restN(InventedWindow w) {
        Reading rest = Samples.rest(w);
        int n = (int) rest.samples();
        double sum = 0;
        for (int i = w.onsetIndex() - n; i < w.onsetIndex(); i++) {
            sum += w.forceN(i);
        }
        return sum / n;
    }

    private static double standardDeviation(double[] values) {
        double mean = 0;
        for (double v : values) {
            mean += v / values.length;
        }
        double squares = 0;
        for (double v : values) {
            squares += (v - mean) * (v - mean);
        }
        return Math.sqrt(squares / (values.length - 1));
    }
}
