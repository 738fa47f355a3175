package io.heldmark.metric;

import io.heldmark.model.UncertaintyBudget;
import io.heldmark.model.UncertaintySource;

/**
 * Budgets of what is worked out from forces: torque, with a limb's weight, per mass.
 *
 * <p><b>Formulas.</b>
 *
 * <pre>
 * T = F r              u^2 = (r u(F))^2 + (F u(r))^2
 * T +- G               u^2 = u^2(T) + u^2(G)
 * S = F / m^b          u^2 = (u(F) / m^b)^2 + (b S u(m) / m)^2
 * </pre>
 *
 * <p><b>Source.</b> GUM (JCGM 100:2008) 5.1.2 and 5.1.6.
 */
public final class Propagation {
    private Propagation() {}

    /**
     * Returns the budget of a torque.
     *
     * @param force budget of the force.
     * @param forceN the force, relative to the session zero.
     * @param leverM lever arm, in metres.
     * @param leverU its standard uncertainty, in metres.
     */
    public static UncertaintyBudget torque(UncertaintyBudget force, double forceN, double leverM, double leverU) {
        return UncertaintyBudget.builder()
                .add(force.scaled(leverM))
                .add(UncertaintySource.LEVER_ARM, forceN * leverU)
                .build();
    }

    /** Returns the budget of a torque to which, or from which, the torque of the limb's weight was added or subtracted. */
    public static UncertaintyBudget withGravity(UncertaintyBudget torque, UncertaintyBudget gravity) {
        return UncertaintyBudget.builder().add(torque).add(gravity).build();
    }

    /**
     * Returns the budget of a value over a power of body mass.
     *
     * @param budget budget of the value.
     * @param value the value.
     * @param massKg body mass.
     * @param massU its standard uncertainty, in kilograms.
     * @param exponent the power b: 1, or 0.67 for forces.
     */
    public static UncertaintyBudget perMass(
            UncertaintyBudget budget, double value, double massKg, double massU, double exponent) {
        double divisor = StrictMath.pow(massKg, exponent);
        return UncertaintyBudget.builder()
                .add(budget.scaled(1 / divisor))
                .add(UncertaintySource.BODY_MASS, exponent * value / divisor * massU / massKg)
                .build();
    }
}
