package io.heldmark.metric;

import io.heldmark.model.MetricValue;
import io.heldmark.model.Quantity;
import io.heldmark.model.UncertaintyBudget;
import io.heldmark.model.Window;

/**
 * A force or torque over a power of body mass.
 *
 * <p><b>Formula.</b> S = X / m^b, m the body mass in kilograms: b = 1 plain, b = 0.67 for forces so that heavy and light people
 * compare (force grows with a muscle's cross-section), b = 1 for torques (force times a length).
 *
 * <p><b>Uncertainty.</b> {@link Propagation#perMass}. A mass whose uncertainty is not stated is taken as known to 0.5 kg (clothes
 * and time of day; common practice, no published source).
 *
 * <p><b>Degenerate.</b> No body mass, or no value to divide: not computed.
 *
 * <p><b>Source.</b> Jaric 2002, Sports Med 32:615-631.
 */
public final class PerMass implements Metric {
    private static final double SCALE_U_KG = 0.5;

    /** What is divided by what. */
    public enum Form {
        /** Peak force by mass. */
        FORCE("force.peak.per-kg", "Peak force per kilogram", "N/kg", 1),
        /** Peak force by mass to the power 0.67. */
        FORCE_ALLOMETRIC("force.peak.allometric", "Peak force by mass^0.67", "N/kg^0.67", 0.67),
        /** Peak torque by mass. */
        TORQUE("torque.peak.per-kg", "Peak torque per kilogram", "N·m/kg", 1);

        private final String id;
        private final String title;
        private final String unit;
        private final double exponent;

        Form(String id, String title, String unit, double exponent) {
            this.id = id;
            this.title = title;
            this.unit = unit;
            this.exponent = exponent;
        }
    }

    private final Form form;

    /** Makes the metric. */
    public PerMass(Form form) {
        this.form = form;
    }

    @Override
    public String id() {
        return form.id;
    }

    @Override
    public String unit() {
        return form.unit;
    }

    @Override
    public Description describe() {
        String what = form == Form.TORQUE ? "Peak torque" : "Peak force";
        String mass = form.exponent == 1 ? "body mass" : "body mass to the power " + form.exponent;
        return new Description(
                form.title,
                what + " over " + mass + " in kilograms.",
                "No body mass is given, or there is no " + what.toLowerCase(java.util.Locale.ROOT) + ".",
                what + ", body mass (0.5 kg where its uncertainty is not given).",
                "Jaric 2002, Sports Med 32:615-631 (exponents 0.67 for force, 1 for torque).");
    }

    @Override
    public MetricValue compute(Window window) {
        Trace t = Trace.of(window);
        double mass = t.conditions().bodyMassKg();
        if (!(mass > 0)) {
            return MetricValue.notComputed(id(), "no body mass is given");
        }
        MetricValue whole =
                form == Form.TORQUE ? PeakTorque.value(id(), t) : BestMean.value(id(), t, PeakForce.SPAN_NS);
        Quantity q = whole.quantity();
        UncertaintyBudget parts = whole.budget();
        if (q == null || parts == null) {
            return whole;
        }
        double stated = t.conditions().bodyMassStandardUncertaintyKg();
        double massU = stated >= 0 ? stated : SCALE_U_KG;
        double value = q.value() / StrictMath.pow(mass, form.exponent);
        UncertaintyBudget budget = Propagation.perMass(parts, q.value(), mass, massU, form.exponent);
        return MetricValue.of(id(), value, budget, q.unit() + form.unit.substring(form.unit.indexOf('/')));
    }
}
