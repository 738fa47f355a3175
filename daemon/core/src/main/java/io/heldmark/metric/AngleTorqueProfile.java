package io.heldmark.metric;

import io.heldmark.model.MetricValue;
import io.heldmark.model.Quantity;
import io.heldmark.model.UncertaintyBudget;
import io.heldmark.model.UncertaintySource;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Torque over joint angle, from tests at several angles.
 *
 * <p><b>Rule.</b> Only tests of the same limb, muscle, hip posture, arrangement, contraction and treatment of the limb's weight.
 * Points are as measured; nothing is fitted or drawn between them.
 *
 * <p><b>Uncertainty.</b> The torque's own, and the setting of the angle: the slope of the steeper straight line to a
 * neighbour times the angle's standard uncertainty.
 *
 * @param points by rising angle; empty where the profile is refused.
 * @param refused why there is no profile; absent where there is one.
 */
public record AngleTorqueProfile(
        List<Point> points, @Nullable String refused) {
    /** Id of a point's torque. */
    public static final String ID = "torque.profile";

    /**
     * One angle.
     *
     * @param angleDeg joint angle.
     * @param torque the torque with its uncertainty, the setting of the angle included.
     */
    public record Point(double angleDeg, MetricValue torque) {}

    /** Copies the list. */
    public AngleTorqueProfile {
        points = List.copyOf(points);
    }

    /** Makes a profile of at least two torques. */
    public static AngleTorqueProfile of(List<JointTorque> torques) {
        List<JointTorque> sorted = new ArrayList<>(torques);
        sorted.sort(Comparator.comparingDouble(t -> t.conditions().angleDeg()));
        String reason = refusal(sorted);
        if (reason != null) {
            return new AngleTorqueProfile(List.of(), reason);
        }
        List<Point> points = new ArrayList<>();
        for (int i = 0; i < sorted.size(); i++) {
            points.add(point(sorted, i));
        }
        return new AngleTorqueProfile(points, null);
    }

    /**
     * Returns the steepest straight line from a torque to a neighbour, over the torque itself.
     *
     * @param torque one of the torques.
     * @param torques those of the same muscle at all angles.
     * @return per degree, not negative; NaN where they make no profile.
     */
    public static double relativeSlopePerDeg(JointTorque torque, List<JointTorque> torques) {
        List<JointTorque> sorted = new ArrayList<>(torques);
        sorted.sort(Comparator.comparingDouble(t -> t.conditions().angleDeg()));
        int at = sorted.indexOf(torque);
        return at < 0 || refusal(sorted) != null ? Double.NaN : slope(sorted, at) / Math.abs(value(torque.torque()));
    }

    /** Returns the point of the highest torque measured; absent without a profile. */
    public @Nullable Point highest() {
        return points.stream()
                .max(Comparator.comparingDouble(p -> value(p.torque())))
                .orElse(null);
    }

    private static @Nullable String refusal(List<JointTorque> sorted) {
        if (sorted.size() < 2) {
            return "a profile needs torques at two angles at least";
        }
        for (JointTorque t : sorted) {
            if (t.refusal() != null) {
                return t.refusal();
            }
        }
        JointTorque first = sorted.get(0);
        for (int i = 1; i < sorted.size(); i++) {
            String differs = difference(first, sorted.get(i));
            if (differs != null) {
                return "the tests differ in " + differs;
            }
            if (sorted.get(i).conditions().angleDeg()
                    == sorted.get(i - 1).conditions().angleDeg()) {
                return "two tests have the same angle";
            }
        }
        return null;
    }

    private static @Nullable String difference(JointTorque a, JointTorque b) {
        if (a.limb() != b.limb() || !a.muscle().equals(b.muscle())) {
            return "limb or muscle";
        }
        if (!a.hipPosture().equals(b.hipPosture())) {
            return "the posture of the hip";
        }
        if (!a.arrangement().equals(b.arrangement())) {
            return "arrangement";
        }
        if (a.action() != b.action() || a.origin() != b.origin()) {
            return "contraction or origin";
        }
        return a.conditions().gravity() == b.conditions().gravity() ? null : "the treatment of the limb's weight";
    }

    private static Point point(List<JointTorque> sorted, int i) {
        JointTorque t = sorted.get(i);
        Quantity q = t.torque().quantity();
        UncertaintyBudget own = t.torque().budget();
        double angleU = t.conditions().angleStandardUncertaintyDeg();
        UncertaintyBudget.Builder b = UncertaintyBudget.builder();
        if (own != null) {
            b.add(own);
        } else if (q != null) {
            b.add(UncertaintySource.CALIBRATION, q.standardUncertainty());
        }
        if (angleU > 0) {
            b.add(UncertaintySource.ANGLE_SETTING, slope(sorted, i) * angleU);
        }
        double angle = t.conditions().angleDeg();
        return new Point(angle, MetricValue.of(ID, value(t.torque()), b.build(), "N·m"));
    }

    /** Steepest straight line to a neighbour, in newton metres per degree. */
    private static double slope(List<JointTorque> sorted, int i) {
        double steepest = 0;
        for (int k = Math.max(0, i - 1); k <= Math.min(sorted.size() - 1, i + 1); k++) {
            if (k != i) {
                double rise =
                        value(sorted.get(k).torque()) - value(sorted.get(i).torque());
                double over = sorted.get(k).conditions().angleDeg()
                        - sorted.get(i).conditions().angleDeg();
                steepest = Math.max(steepest, Math.abs(rise / over));
            }
        }
        return steepest;
    }

    private static double value(MetricValue torque) {
        Quantity q = torque.quantity();
        return q == null ? Double.NaN : q.value();
    }
}
