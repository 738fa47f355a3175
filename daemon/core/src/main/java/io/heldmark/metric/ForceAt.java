package io.heldmark.metric;

import io.heldmark.model.MetricMark;
import io.heldmark.model.MetricValue;
import io.heldmark.model.UncertaintyBudget;
import io.heldmark.model.Window;
import java.util.List;

/**
 * Force above the resting level at a fixed time after the onset.
 *
 * <p><b>Formula.</b> F(t_on + T) - F_rest; F drawn straight between its neighbours, unfiltered, F_rest the mean of the 200 ms
 * before the onset. The session zero cancels.
 *
 * <p><b>Uncertainty.</b> {@link DeviceUncertainty#difference}: calibration of the rise, rounding twice, noise of one sample and
 * of the resting level, and the onset's uncertainty times the slope of the force at that instant.
 *
 * <p><b>Degenerate.</b> A contraction shorter than T, samples missing up to there, or nothing recorded before the onset: not
 * computed.
 *
 * <p><b>Source.</b> Force at fixed times: Maffiuletti et al. 2016, Eur J Appl Physiol 116:1091-1116.
 */
public final class ForceAt implements Metric {
    private final String id;
    private final long spanNs;

    /**
     * Makes the metric.
     *
     * @param ms time after the onset in milliseconds, 1 to 10,000.
     */
    public ForceAt(int ms) {
        spanNs = Early.spanNs(ms);
        id = "force.at-" + ms + "ms";
    }

    @Override
    public String id() {
        return id;
    }

    @Override
    public String unit() {
        return "N";
    }

    @Override
    public Description describe() {
        String span = Early.span(spanNs);
        return new Description(
                "Force at " + span,
                "Force " + span
                        + " after the onset less the resting level; unfiltered, drawn straight between samples.",
                "The contraction is shorter than " + span + ", samples are missing up to there, or nothing was recorded"
                        + " before the onset.",
                "Calibration, resolution, noise of one sample and of the resting level, onset times the slope of the force"
                        + " there; the session zero cancels.",
                "Maffiuletti et al. 2016, Eur J Appl Physiol 116:1091-1116.");
    }

    @Override
    public MetricValue compute(Window window) {
        Trace t = Trace.of(window);
        String reason = Early.refused(t, spanNs);
        if (reason != null) {
            return MetricValue.notComputed(id(), reason);
        }
        return MetricValue.of(id(), riseN(t, spanNs), budget(t, spanNs), t.unit(""));
    }

    @Override
    public List<MetricMark> marks(Window window) {
        Trace t = Trace.of(window);
        if (Early.refused(t, spanNs) != null) {
            return List.of();
        }
        long atNs = t.onsetNs() + spanNs;
        return List.of(MetricMark.point(id(), atNs, t.forceAt(atNs)));
    }

    /** Returns the force above the resting level at a time after the onset. */
    static double riseN(Trace t, long spanNs) {
        return t.forceAt(t.onsetNs() + spanNs) - t.restingLevelN();
    }

    /** Returns its budget. */
    static UncertaintyBudget budget(Trace t, long spanNs) {
        long atNs = t.onsetNs() + spanNs;
        Reading to = Reading.at(t.forceAt(atNs), t.slopeNPerS(atNs));
        return t.uncertainty().difference(to, t.rest(), t.onsetStandardUncertaintyNs() * 1e-9);
    }
}
