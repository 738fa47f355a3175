package io.heldmark.metric;

import io.heldmark.model.Limb;
import io.heldmark.model.MetricValue;
import io.heldmark.model.TestConditions;
import io.heldmark.model.TestConditions.Contact;
import io.heldmark.model.TestConditions.Gravity;
import org.jspecify.annotations.Nullable;

/**
 * A torque of one joint with all that must be known of it before it is put beside another.
 *
 * @param torque the torque, in newton metres; or why there is none.
 * @param limb the limb.
 * @param muscle what it worked, for example {@code flexor} or {@code extensor}.
 * @param conditions of the test: angle, gravity, what the limb acts on.
 * @param hipPosture posture of the hip, for example {@code sitting}; empty where it is not said.
 * @param arrangement the plan's arrangement, for example {@code seated, cuff above the ankle}; empty where it is not said.
 * @param action how the muscle worked.
 * @param speedDegPerS speed of the joint, 0 where it did not move; NaN where it is not said.
 * @param origin where it comes from.
 * @param cell the cell it was measured with; empty where unknown. One cell's calibration cancels in a ratio.
 */
public record JointTorque(
        MetricValue torque,
        Limb limb,
        String muscle,
        TestConditions conditions,
        String hipPosture,
        String arrangement,
        Action action,
        double speedDegPerS,
        Origin origin,
        String cell) {
    /** How the muscle worked. */
    public enum Action {
        /** The joint did not move. */
        ISOMETRIC,
        /** While shortening. */
        CONCENTRIC,
        /** While being lengthened. */
        ECCENTRIC,
        /** Not said. */
        UNKNOWN
    }

    /** Where a torque comes from. */
    public enum Origin {
        /** Measured with this station. */
        STATION,
        /** Imported from a device that holds the speed. */
        IMPORTED_ISOKINETIC
    }

    /** Returns why the limb's weight is not treated in this torque, as a ratio needs it; nothing where it is. */
    @Nullable String untreated() {
        return conditions.gravity() == Gravity.NONE
                ? (muscle.isEmpty() ? "torque" : muscle)
                        + ": the limb's weight was left in it (gravity none); say removedByZero, or add or subtract with its"
                        + " torque, 0 where it does not act along the pull"
                : null;
    }

    /** Returns why this torque must not be put beside another; nothing where it may. */
    @Nullable String refusal() {
        String who = muscle.isEmpty() ? "torque" : muscle;
        if (torque.quantity() == null) {
            return who + ": " + torque.notComputed();
        }
        if (!torque.quantity().unit().equals("N·m")) {
            return who + ": a force is not a torque";
        }
        if (conditions.contact() == Contact.HEEL_PLATE) {
            return who + ": a push of the heel against a plate mixes the moments of hip and knee";
        }
        if (Double.isNaN(conditions.angleDeg())) {
            return who + ": the joint angle is not stated";
        }
        if (hipPosture.isEmpty()) {
            return who + ": the posture of the hip is not stated";
        }
        if (action == Action.UNKNOWN || (action != Action.ISOMETRIC && !(speedDegPerS > 0))) {
            return who + ": contraction and speed are not stated";
        }
        if (conditions.gravity() == Gravity.UNKNOWN) {
            return who + ": nothing is said of the limb's weight";
        }
        if (action != Action.ISOMETRIC && origin != Origin.IMPORTED_ISOKINETIC) {
            return who + ": torque while the joint moves needs imported isokinetic data; a kneeling lower is not that";
        }
        return null;
    }
}
