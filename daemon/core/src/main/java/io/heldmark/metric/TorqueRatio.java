package io.heldmark.metric;

import io.heldmark.metric.JointTorque.Action;
import io.heldmark.model.MetricValue;
import io.heldmark.model.Quantity;
import io.heldmark.model.UncertaintyBudget;
import io.heldmark.model.UncertaintySource;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/**
 * Ratio of agonist to antagonist.
 *
 * <p><b>Rules.</b> Only from torques with stated angle, hip posture, contraction and speed, both with the limb's weight treated
 * ({@link JointTorque#refusal}, {@link JointTorque#untreated}); never from a heel push or a kneeling lower. "Functional" is an eccentric flexor over a
 * concentric extensor at one speed, imported isokinetic data alone. Anything else is titled for what it is, and no published
 * cut-off goes with it.
 *
 * <p><b>Uncertainty.</b> Relative parts in squares; the calibration of one and the same cell cancels. The setting of an angle,
 * where its uncertainty is stated: that times the torque's relative slope over the angle, which comes from tests of the same muscle
 * at other angles ({@link AngleTorqueProfile#relativeSlopePerDeg}); without any, 1 % per degree (common practice, no
 * published source). Both angles are set each for itself. The
 * uncertainty of an imported torque is taken as the user states it, the setting included.
 *
 * <p><b>Source.</b> The project's rules; the functional ratio: Aagaard et al. 1998 (from memory). Propagation: GUM (JCGM 100:2008)
 * 5.1.6, 5.2.2.
 *
 * @param title what it is, in words; stands beside the value.
 * @param value the ratio, unit 1, or why there is none.
 */
public record TorqueRatio(String title, MetricValue value) {
    /** Id of the value. */
    public static final String ID = "ratio.torque";

    private static final double LEAST_RATIO = 3;
    private static final double SLOPE_PER_DEG = 0.01;

    /** Puts an agonist's torque over its antagonist's where neither was tested at another angle. */
    public static TorqueRatio of(JointTorque agonist, JointTorque antagonist) {
        return of(agonist, antagonist, Double.NaN, Double.NaN);
    }

    /**
     * Puts an agonist's torque over its antagonist's.
     *
     * @param agonistSlope the agonist's relative slope over the angle, per degree; NaN where it is not known.
     * @param antagonistSlope the antagonist's.
     */
    public static TorqueRatio of(
            JointTorque agonist, JointTorque antagonist, double agonistSlope, double antagonistSlope) {
        String title = title(agonist, antagonist);
        String reason = refusal(agonist, antagonist);
        Quantity a = agonist.torque().quantity();
        Quantity b = antagonist.torque().quantity();
        if (reason != null || a == null || b == null) {
            return new TorqueRatio(title, MetricValue.notComputed(ID, String.valueOf(reason)));
        }
        double ratio = a.value() / b.value();
        UncertaintyBudget budget = UncertaintyBudget.builder()
                .add(LogRatio.budget(agonist.torque(), antagonist.torque(), cells(agonist, antagonist)))
                .add(UncertaintySource.ANGLE_SETTING, settingRelativeU(agonist, agonistSlope))
                .add(UncertaintySource.ANGLE_SETTING, settingRelativeU(antagonist, antagonistSlope))
                .build();
        return new TorqueRatio(title, MetricValue.of(ID, ratio, budget.scaled(ratio), "1"));
    }

    private static double settingRelativeU(JointTorque t, double slope) {
        double angleU = t.conditions().angleStandardUncertaintyDeg();
        if (t.origin() != JointTorque.Origin.STATION || !(angleU > 0)) {
            return 0;
        }
        return angleU * (Double.isNaN(slope) ? SLOPE_PER_DEG : slope);
    }

    private static @Nullable String refusal(JointTorque a, JointTorque b) {
        String reason = a.refusal() == null ? b.refusal() : a.refusal();
        if (reason != null) {
            return reason;
        }
        String untreated = a.untreated() == null ? b.untreated() : a.untreated();
        if (untreated != null) {
            return untreated;
        }
        if (a.limb() != b.limb()) {
            return "the torques are of different limbs";
        }
        if (a.muscle().equals(b.muscle())) {
            return "both torques are of the " + a.muscle();
        }
        if (!functional(a, b) && a.action() != b.action()) {
            return "the contractions differ: " + word(a.action()) + " over " + word(b.action());
        }
        if (a.action() != Action.ISOMETRIC && a.speedDegPerS() != b.speedDegPerS()) {
            return "the speeds differ";
        }
        return tellable(a.torque()) && tellable(b.torque())
                ? null
                : "a torque is not far enough above zero for a ratio";
    }

    private static boolean tellable(MetricValue torque) {
        Quantity q = torque.quantity();
        return q != null && q.value() > 0 && q.value() > LEAST_RATIO * q.standardUncertainty();
    }

    private static boolean functional(JointTorque a, JointTorque b) {
        return a.muscle().equals("flexor")
                && a.action() == Action.ECCENTRIC
                && b.muscle().equals("extensor")
                && b.action() == Action.CONCENTRIC;
    }

    private static String title(JointTorque a, JointTorque b) {
        String kind = functional(a, b) ? "functional" : word(a.action());
        String speed = a.speedDegPerS() > 0 ? String.format(Locale.ROOT, " at %.0f°/s", a.speedDegPerS()) : "";
        String posture =
                a.hipPosture().equals(b.hipPosture()) ? a.hipPosture() : a.hipPosture() + " / " + b.hipPosture();
        return kind + " torque ratio" + speed + ", " + side(a) + " / " + side(b) + ", hip " + posture;
    }

    private static String side(JointTorque t) {
        double angle = t.conditions().angleDeg();
        return Double.isNaN(angle) ? t.muscle() : String.format(Locale.ROOT, "%.0f° %s", angle, t.muscle());
    }

    private static String word(Action action) {
        return action == Action.UNKNOWN ? "unknown" : action.name().toLowerCase(Locale.ROOT);
    }

    private static CellPair cells(JointTorque a, JointTorque b) {
        boolean same = !a.cell().isEmpty() && a.cell().equals(b.cell());
        return same ? new CellPair(Math.min(calibration(a), calibration(b)), Double.NaN) : CellPair.UNKNOWN;
    }

    private static double calibration(JointTorque t) {
        Quantity q = t.torque().quantity();
        UncertaintyBudget budget = t.torque().budget();
        return q == null || budget == null ? 0 : budget.of(UncertaintySource.CALIBRATION) / q.value();
    }
}
