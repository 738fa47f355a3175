package io.heldmark.metric;

import io.heldmark.model.MetricValue;
import io.heldmark.model.UncertaintyBudget;
import io.heldmark.model.Window;

/**
 * Fall of the force over one maximal hold.
 *
 * <p><b>Formula.</b> With P the peak force (highest 100-ms mean), whose stretch has its middle at t_p, and t_r the start of the
 * release. End: 100 (1 - E / P), E the mean of the last 100 ms before t_r. Area: 100 (1 - M / P), M the mean force from t_p to
 * t_r: the share of the area under the peak that was lost.
 *
 * <p><b>Uncertainty.</b> Noise and rounding of both, and the zero's: (E - P) / P^2 times its shift; see {@link Relative}. The
 * calibration cancels.
 *
 * <p><b>Degenerate.</b> Less than 5 s from the peak to the release (a short maximum is no test of fatigue), a target that was to
 * be held, samples missing, a lowering, a peak not above zero: not computed.
 *
 * <p><b>Source.</b> Both indices: Surakka et al. 2004, Arch Phys Med Rehabil 85:1292-1296 (from memory); 5 s and 100 ms: common
 * practice, no published source.
 */
public final class HoldFatigue implements Metric {
    private static final double SHORTEST_S = 5;

    private final boolean ofArea;

    /**
     * Makes the metric.
     *
     * @param ofArea whether of the mean force of the hold, else of its end.
     */
    public HoldFatigue(boolean ofArea) {
        this.ofArea = ofArea;
    }

    @Override
    public String id() {
        return ofArea ? "fatigue.hold.area" : "fatigue.hold.end";
    }

    @Override
    public String unit() {
        return "%";
    }

    @Override
    public Description describe() {
        return new Description(
                ofArea ? "Fatigue over the hold (area)" : "Fatigue over the hold (end)",
                ofArea
                        ? "100 · (1 - mean force from the middle of the peak's 100 ms to the start of the release / peak force)."
                        : "100 · (1 - mean of the last 100 ms before the release / peak force).",
                "Less than 5 s lie between peak and release, a target was to be held, samples are missing, it was a lowering, or"
                        + " the peak is not above zero.",
                "Noise, resolution, zero; the calibration cancels.",
                "Surakka et al. 2004, Arch Phys Med Rehabil 85:1292-1296 (from memory); 5 s and 100 ms: common practice.");
    }

    @Override
    public MetricValue compute(Window window) {
        Trace t = Trace.of(window);
        if (t.conditions().targetForceN() > 0) {
            return MetricValue.notComputed(id(), "a target was to be held: its fall is not fatigue");
        }
        if (Lowering.is(t)) {
            return MetricValue.notComputed(id(), "a lowering is not a hold");
        }
        SlidingMean peak = t.peak();
        if (peak == null || !(peak.meanN() > 0)) {
            return MetricValue.notComputed(id(), "there is no peak force above zero");
        }
        double lengthS = (t.releaseStartNs() - peak.middleNs()) * 1e-9;
        if (!(lengthS >= SHORTEST_S)) {
            String reason = Decimals.of(Math.max(0, lengthS), 1) + " s from the peak to the release, it takes 5 s";
            return MetricValue.notComputed(id(), reason);
        }
        long fromNs = ofArea ? Math.round(peak.middleNs()) : t.releaseStartNs() - PeakForce.SPAN_NS;
        if (t.missingBetween(t.after(fromNs), t.after(t.releaseStartNs()))) {
            return MetricValue.notComputed(id(), "samples are missing in the hold");
        }
        return value(t, peak, fromNs);
    }

    private MetricValue value(Trace t, SlidingMean peak, long fromNs) {
        Area area = Area.between(t, fromNs, t.releaseStartNs());
        double spanS = area.lengthS();
        double meanN = t.restingLevelN() + area.impulseNs() / spanS;
        UncertaintyBudget mean = t.uncertainty().mean(meanN, spanS / (t.periodNs() * 1e-9), spanS);
        double q = meanN / peak.meanN();
        UncertaintyBudget ratio = Relative.ofLevel(mean, PeakForce.budget(t, peak), q, peak.meanN());
        return MetricValue.of(id(), 100 * (1 - q), ratio.scaled(100), unit());
    }
}
