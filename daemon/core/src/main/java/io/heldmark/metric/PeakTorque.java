package io.heldmark.metric;

import io.heldmark.model.MetricValue;
import io.heldmark.model.Quantity;
import io.heldmark.model.TestConditions;
import io.heldmark.model.TestConditions.Contact;
import io.heldmark.model.TestConditions.Gravity;
import io.heldmark.model.TestConditions.Zeroing;
import io.heldmark.model.UncertaintyBudget;
import io.heldmark.model.UncertaintySource;
import io.heldmark.model.Window;
import org.jspecify.annotations.Nullable;

/**
 * Peak torque about the joint.
 *
 * <p><b>Formula.</b> T = F_peak r, with {@code force.peak} and the lever arm r from the joint's axis to the line of pull; plus or
 * minus the torque of the limb's weight G where the plan says that it works against or with the muscle.
 *
 * <p><b>Gravity.</b> A session zero that was taken with the limb in place has removed its weight: correcting it again is
 * refused. Where nothing is said of gravity T is F r.
 *
 * <p><b>Uncertainty.</b> {@link Propagation#torque}: r u(F), F u(r), u(G). A lever arm whose uncertainty is not stated is taken
 * as known to 5 mm (common practice with a tape, no published source), a torque of the limb's weight to a tenth of itself (likewise).
 *
 * <p><b>Degenerate.</b> No lever arm, no peak force, a channel not in newtons; a plate under the heel, where the moments of hip
 * and knee mix; a correction without its torque: not computed.
 *
 * <p><b>Source.</b> Moment of a force; gravity by direction: Barr and Duncan 1988, J Orthop Sports Phys Ther (from memory).
 */
public final class PeakTorque implements Metric {
    static final String ID = "torque.peak";

    private static final double TAPE_U_M = 0.005;
    private static final double GRAVITY_U_SHARE = 0.1;

    @Override
    public String id() {
        return ID;
    }

    @Override
    public String unit() {
        return "N·m";
    }

    @Override
    public Description describe() {
        return new Description(
                "Peak torque",
                "Peak force times lever arm; the torque of the limb's weight is added or subtracted where the plan says so.",
                "No lever arm is given, there is no peak force, the limb pushes a plate under the heel (moments of hip and knee"
                        + " mix), or a correction is asked for that the session zero has made already or whose torque is not"
                        + " given.",
                "Peak force, lever arm (5 mm where its uncertainty is not given), torque of the limb's weight (a tenth of it where"
                        + " its uncertainty is not given).",
                "Moment of a force; direction of gravity: Barr and Duncan 1988, J Orthop Sports Phys Ther (from memory).");
    }

    @Override
    public MetricValue compute(Window window) {
        return value(id(), Trace.of(window));
    }

    static MetricValue value(String id, Trace t) {
        TestConditions c = t.conditions();
        String reason = refused(t, c);
        SlidingMean peak = t.peak();
        if (reason != null || peak == null) {
            return MetricValue.notComputed(id, reason == null ? "there is no peak force" : reason);
        }
        double lever = c.leverArmM();
        double leverU = c.leverArmStandardUncertaintyM() >= 0 ? c.leverArmStandardUncertaintyM() : TAPE_U_M;
        double torque = peak.meanN() * lever;
        UncertaintyBudget budget = Propagation.torque(PeakForce.budget(t, peak), peak.meanN(), lever, leverU);
        if (corrects(c)) {
            Quantity weight = weight(c);
            torque += c.gravity() == Gravity.ADD ? weight.value() : -weight.value();
            budget = Propagation.withGravity(
                    budget,
                    UncertaintyBudget.builder()
                            .add(UncertaintySource.GRAVITY, weight.standardUncertainty())
                            .build());
        }
        return MetricValue.of(id, torque, budget, "N·m");
    }

    private static @Nullable String refused(Trace t, TestConditions c) {
        if (!(c.leverArmM() > 0)) {
            return "no lever arm is given";
        }
        if (!t.channel().unit().equals("N")) {
            return "the channel is not calibrated in newtons";
        }
        if (c.contact() == Contact.HEEL_PLATE) {
            return "a plate under the heel: moments of hip and knee mix";
        }
        return gravityRefused(c);
    }

    private static @Nullable String gravityRefused(TestConditions c) {
        boolean removed = c.gravity() == Gravity.REMOVED_BY_ZERO;
        boolean given = c.gravityTorqueNm() > 0;
        if ((removed && given) || (corrects(c) && c.zeroing() == Zeroing.IN_POSTURE)) {
            return "the zero removed the limb's weight already: it is not corrected again";
        }
        if (corrects(c) && !(c.gravityTorqueNm() >= 0)) {
            return "the torque of the limb's weight is not given";
        }
        return null;
    }

    private static boolean corrects(TestConditions c) {
        return c.gravity() == Gravity.ADD || c.gravity() == Gravity.SUBTRACT;
    }

    private static Quantity weight(TestConditions c) {
        double u = c.gravityTorqueStandardUncertaintyNm();
        return new Quantity(c.gravityTorqueNm(), u >= 0 ? u : GRAVITY_U_SHARE * c.gravityTorqueNm(), "N·m");
    }
}
