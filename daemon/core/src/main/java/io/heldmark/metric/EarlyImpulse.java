package io.heldmark.metric;

import io.heldmark.model.MetricValue;
import io.heldmark.model.Window;

/**
 * Impulse above the resting level from the onset over a fixed time.
 *
 * <p><b>Formula.</b> I = integral of (F(t) - F_rest) dt from t_on to t_on + T; see {@link Area}. Unfiltered.
 *
 * <p><b>Uncertainty.</b> {@link DeviceUncertainty#integral}. An onset that is late by dt moves both ends: (F(t_on + T) -
 * F(t_on)) dt.
 *
 * <p><b>Degenerate.</b> A contraction shorter than T, samples missing up to there, or nothing recorded before the onset: not
 * computed.
 *
 * <p><b>Source.</b> Contractile impulse: Maffiuletti et al. 2016, Eur J Appl Physiol 116:1091-1116; trapezoidal rule.
 */
public final class EarlyImpulse implements Metric {
    private final String id;
    private final long spanNs;

    /**
     * Makes the metric.
     *
     * @param ms time after the onset in milliseconds, 1 to 10,000.
     */
    public EarlyImpulse(int ms) {
        spanNs = Early.spanNs(ms);
        id = "impulse.0-" + ms + "ms";
    }

    @Override
    public String id() {
        return id;
    }

    @Override
    public String unit() {
        return "N·s";
    }

    @Override
    public Description describe() {
        String span = Early.span(spanNs);
        return new Description(
                "Impulse, 0 to " + span,
                "Integral of the force above the resting level from the onset to " + span
                        + " after it, by trapezoids; unfiltered.",
                "The contraction is shorter than " + span + ", samples are missing up to there, or nothing was recorded"
                        + " before the onset.",
                "Calibration, resting level, resolution, noise, onset times what the force gained; the session zero"
                        + " cancels.",
                "Maffiuletti et al. 2016, Eur J Appl Physiol 116:1091-1116; trapezoidal rule.");
    }

    @Override
    public MetricValue compute(Window window) {
        Trace t = Trace.of(window);
        String reason = Early.refused(t, spanNs);
        if (reason != null) {
            return MetricValue.notComputed(id(), reason);
        }
        Area area = Area.between(t, t.onsetNs(), t.onsetNs() + spanNs);
        double timing = (area.toN() - area.fromN()) * t.onsetStandardUncertaintyNs() * 1e-9;
        return MetricValue.of(id(), area.impulseNs(), area.budget(t, timing), t.unit("·s"));
    }
}
