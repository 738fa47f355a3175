package io.heldmark.metric;

import io.heldmark.metric.JointTorque.Action;
import io.heldmark.metric.JointTorque.Origin;
import io.heldmark.model.CellCalibration;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Contraction;
import io.heldmark.model.Contraction.Revision;
import io.heldmark.model.Effort;
import io.heldmark.model.Limb;
import io.heldmark.model.MetricValue;
import io.heldmark.model.TestConditions;
import io.heldmark.model.TestConditions.Gravity;
import io.heldmark.model.UncertaintyBudget;
import io.heldmark.model.UncertaintySource;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;

/**
 * Figures of sets, of two tests and of efforts against Monte Carlo (JCGM 101:2008): what is the same in every trial is drawn
 * once, what is not is drawn for each; the figure itself is computed from the drawn forces, not from its derivatives.
 */
class SetMonteCarloTest {
    private static final double[] LEFT = {412, 405, 398};
    private static final double[] RIGHT = {371, 380, 366};
    private static final double GAIN_U = 0.008;
    private static final double NOISE_N = 4;

    private static MetricValue force(double value) {
        UncertaintyBudget budget = UncertaintyBudget.builder()
                .add(UncertaintySource.CALIBRATION, GAIN_U * value)
                .add(UncertaintySource.NOISE, NOISE_N)
                .build();
        return MetricValue.of("force.peak", value, budget, "N");
    }

    private static List<MetricValue> forces(double[] values) {
        List<MetricValue> forces = new ArrayList<>();
        for (double value : values) {
            forces.add(force(value));
        }
        return forces;
    }

    private static double mean(double[] values) {
        return (values[0] + values[1] + values[2]) / 3;
    }

    @Test
    void shouldAgreeForTheMeanIndexOfASet() {
        List<MetricValue> indices = new ArrayList<>();
        double truth = 0;
        for (int i = 0; i < 3; i++) {
            indices.add(new LogAsymmetry().compute(force(LEFT[i]), force(RIGHT[i]), CellPair.UNKNOWN));
            truth += 100 * Math.log(LEFT[i] / RIGHT[i]) / 3;
        }
        double centre = truth;
        double stated = SetAsymmetry.paired(indices, false).quantity().standardUncertainty();
        MonteCarlo.assertAgrees("mean index of three efforts", stated, 41, r -> {
            double leftGain = 1 + MonteCarlo.normal(r, GAIN_U);
            double rightGain = 1 + MonteCarlo.normal(r, GAIN_U);
            double sum = 0;
            for (int i = 0; i < 3; i++) {
                double left = LEFT[i] + MonteCarlo.normal(r, NOISE_N);
                double right = RIGHT[i] + MonteCarlo.normal(r, NOISE_N);
                sum += 100 * Math.log(leftGain * left / (rightGain * right)) / 3;
            }
            return sum - centre;
        });
    }

    @Test
    void shouldAgreeForLimbsTestedOneByOne() {
        double stated = SetAsymmetry.oneByOne(forces(LEFT), forces(RIGHT), CellPair.UNKNOWN)
                .quantity()
                .standardUncertainty();
        double centre = 100 * Math.log(mean(LEFT) / mean(RIGHT));
        MonteCarlo.assertAgrees("index of limbs one by one", stated, 42, r -> {
            double left = drawnMean(r, LEFT) * (1 + MonteCarlo.normal(r, GAIN_U));
            double right = drawnMean(r, RIGHT) * (1 + MonteCarlo.normal(r, GAIN_U));
            return 100 * Math.log(left / right) - centre;
        });
    }

    private static double drawnMean(Random r, double[] truth) {
        double sum = 0;
        for (double value : truth) {
            sum += value + MonteCarlo.normal(r, NOISE_N);
        }
        return sum / 3;
    }

    @Test
    void shouldAgreeForFatigueOverASet() {
        double[] peaks = {430, 402, 371};
        for (boolean ofMean : new boolean[] {false, true}) {
            double stated =
                    new SetFatigue(ofMean).compute(forces(peaks)).quantity().standardUncertainty();
            double truth = 100 * (1 - (ofMean ? mean(peaks) : peaks[2]) / peaks[0]);
            MonteCarlo.assertAgrees(ofMean ? "fatigue, mean" : "fatigue, last", stated, 47, r -> {
                double gain = 1 + MonteCarlo.normal(r, GAIN_U);
                double[] drawn = new double[3];
                for (int i = 0; i < 3; i++) {
                    drawn[i] = gain * peaks[i] + MonteCarlo.normal(r, NOISE_N);
                }
                return 100 * (1 - (ofMean ? mean(drawn) : drawn[2]) / drawn[0]) - truth;
            });
        }
    }

    private static JointTorque torque(String muscle, double nm, double leverU, double angleDeg) {
        UncertaintyBudget budget = UncertaintyBudget.builder()
                .add(UncertaintySource.CALIBRATION, GAIN_U * nm)
                .add(UncertaintySource.LEVER_ARM, leverU * nm)
                .add(UncertaintySource.NOISE, 0.5)
                .build();
        TestConditions conditions = TestConditions.UNKNOWN.toBuilder()
                .angleDeg(angleDeg, 2)
                .gravity(Gravity.REMOVED_BY_ZERO)
                .build();
        return new JointTorque(
                MetricValue.of("torque.peak", nm, budget, "N·m"),
                Limb.LEFT,
                muscle,
                conditions,
                "sitting",
                "cuff",
                Action.ISOMETRIC,
                0,
                Origin.STATION,
                "cell 1");
    }

    @Test
    void shouldAgreeForARatioOfTorquesOfOneCell() {
        // The flexor's torque falls by 0.8 N·m a degree there, the extensor's rises by 1.1; both angles are off by 2
        // degrees.
        double stated = TorqueRatio.of(
                        torque("flexor", 96, 0.014, 30), torque("extensor", 160, 0.011, 60), 0.8 / 96, 1.1 / 160)
                .value()
                .quantity()
                .standardUncertainty();
        MonteCarlo.assertAgrees("ratio of torques, one cell", stated, 43, r -> {
            double gain = 1 + MonteCarlo.normal(r, GAIN_U);
            double flexorThere = 96 - 0.8 * MonteCarlo.normal(r, 2);
            double extensorThere = 160 + 1.1 * MonteCarlo.normal(r, 2);
            double flexor = flexorThere * gain * (1 + MonteCarlo.normal(r, 0.014)) + MonteCarlo.normal(r, 0.5);
            double extensor = extensorThere * gain * (1 + MonteCarlo.normal(r, 0.011)) + MonteCarlo.normal(r, 0.5);
            return flexor / extensor - 96 / 160.0;
        });
    }

    /** Between its neighbours the torque of this joint falls by 0.8 N·m a degree; the setting is off by 2 degrees. */
    @Test
    void shouldAgreeForATorqueAtAnAngle() {
        AngleTorqueProfile profile = AngleTorqueProfile.of(List.of(
                torque("flexor", 120, 0.014, 30), torque("flexor", 96, 0.014, 60), torque("flexor", 72, 0.014, 90)));
        double stated = profile.points().get(1).torque().quantity().standardUncertainty();
        MonteCarlo.assertAgrees("torque at an angle", stated, 44, r -> {
            double set = 96 - 0.8 * MonteCarlo.normal(r, 2);
            double factor = (1 + MonteCarlo.normal(r, GAIN_U)) * (1 + MonteCarlo.normal(r, 0.014));
            return set * factor + MonteCarlo.normal(r, 0.5) - 96;
        });
    }

    private static Contraction contraction(long id, Limb limb, double onsetU) {
        return new Contraction(
                id,
                Revision.FINAL,
                limb == Limb.LEFT ? 0 : 1,
                limb,
                1_000_000_000L,
                onsetU,
                3_000_000_000L,
                4_000_000_000L,
                0,
                List.of(),
                List.of(force(400)));
    }

    private static ChannelInfo channel(Limb limb, String link) {
        int n = limb == Limb.LEFT ? 0 : 1;
        return new ChannelInfo(
                n, link, "cell", n, "n", limb, 1000, 0, 0, "N", "factory", 0.002, 0, CellCalibration.UNKNOWN);
    }

    private static double lagU(String leftLink, String rightLink, double leftU, double rightU, double alignU) {
        EffortPairing pairing = EffortPairing.standard();
        pairing.onFinal(contraction(1, Limb.LEFT, Math.hypot(leftU, alignU)), channel(Limb.LEFT, leftLink), alignU);
        Effort effort = pairing.onFinal(
                contraction(2, Limb.RIGHT, Math.hypot(rightU, alignU)), channel(Limb.RIGHT, rightLink), alignU);
        return effort.onsetLagStandardUncertaintyNs();
    }

    @Test
    void shouldAgreeForTheLagOfOnsets() {
        double apart = lagU("serial:a", "serial:b", 1.5e6, 2e6, 0.8e6);
        MonteCarlo.assertAgrees("onset lag, two devices", apart, 45, r -> {
            double left = MonteCarlo.normal(r, 1.5e6) + MonteCarlo.normal(r, 0.8e6);
            double right = MonteCarlo.normal(r, 2e6) + MonteCarlo.normal(r, 0.8e6);
            return left - right;
        });
        double one = lagU("serial:a", "serial:a", 1.5e6, 2e6, 0.8e6);
        MonteCarlo.assertAgrees("onset lag, one device", one, 46, r -> {
            double clock = MonteCarlo.normal(r, 0.8e6);
            double left = MonteCarlo.normal(r, 1.5e6) + clock;
            double right = MonteCarlo.normal(r, 2e6) + clock;
            return left - right;
        });
    }
}
