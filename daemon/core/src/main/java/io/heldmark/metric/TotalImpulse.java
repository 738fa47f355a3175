package io.heldmark.metric;

import io.heldmark.model.MetricValue;
import io.heldmark.model.Window;

/**
 * Impulse of the whole contraction above the resting level.
 *
 * <p><b>Formula.</b> I = integral of (F(t) - F_rest) dt from onset to offset; trapezoids between samples, and at both ends as
 * far as the boundary, where F is drawn straight between its neighbours. F_rest is the mean of the 200 ms before the onset.
 * The session zero cancels.
 *
 * <p><b>Uncertainty.</b> With T the duration and dt the period:
 *
 * <pre>u^2 = (uCal I)^2 + (T u(F_rest))^2 + T^2 resolution^2 / 12 + noise^2 c dt T + (dF_on u_on)^2 + (dF_off u_off)^2</pre>
 *
 * u(F_rest) is the noise of the mean of the 200 ms; the last two are the height of the force above rest at each boundary
 * times the boundary's own uncertainty.
 *
 * <p><b>Degenerate.</b> Missing samples between onset and offset: not computed, for nothing is filled in. Negative force
 * counts as negative.
 *
 * <p><b>Source.</b> Trapezoidal rule; GUM (JCGM 100:2008) 5.1.2. Error of the rule for a curve of second derivative F'':
 * T dt^2 F'' / 12.
 */
public final class TotalImpulse implements Metric {
    @Override
    public String id() {
        return "impulse.total";
    }

    @Override
    public String unit() {
        return "N·s";
    }

    @Override
    public Description describe() {
        return new Description(
                "Impulse",
                "Integral of the force above the resting level from onset to offset, by trapezoids.",
                "Samples are missing between onset and offset.",
                "Calibration, resting level, resolution, noise, onset and offset; the session zero cancels. Compare only"
                        + " contractions of similar duration.",
                "Trapezoidal rule.");
    }

    @Override
    public MetricValue compute(Window window) {
        Trace t = Trace.of(window);
        if (t.offsetIndex() <= t.onsetIndex()) {
            return MetricValue.notComputed(id(), "there are fewer than two samples between onset and offset");
        }
        if (t.missingInside()) {
            return MetricValue.notComputed(id(), "samples are missing between onset and offset");
        }
        Area area = Area.between(t, t.onsetNs(), t.offsetNs());
        double onset = area.fromN() * t.onsetStandardUncertaintyNs() * 1e-9;
        double offset = area.toN() * t.offsetStandardUncertaintyNs() * 1e-9;
        return MetricValue.of(id(), area.impulseNs(), area.budget(t, StrictMath.hypot(onset, offset)), t.unit("·s"));
    }
}
