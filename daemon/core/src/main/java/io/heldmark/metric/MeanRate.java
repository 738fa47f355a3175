package io.heldmark.metric;

import io.heldmark.model.MetricMark;
import io.heldmark.model.MetricValue;
import io.heldmark.model.UncertaintyBudget;
import io.heldmark.model.Window;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Mean rate of force development from the onset over a fixed time, in newtons per second or as a share of the peak force.
 *
 * <p><b>Formula.</b> RFD(0-T) = (F(t_on + T) - F_rest) / T; relative: over {@code force.peak}. Samples as they came: a narrow
 * filter would move the onset by tens of milliseconds and take a third off the first 50 ms.
 *
 * <p><b>Uncertainty.</b> That of {@link ForceAt} over T. Of the relative form the calibration cancels ({@link Relative}).
 *
 * <p><b>Degenerate.</b> Refused, with the reason, where {@link RateGates} says so, or where {@link ForceAt} would be.
 *
 * <p><b>Source.</b> Maffiuletti et al. 2016, Eur J Appl Physiol 116:1091-1116; relative to the peak: the same, from memory.
 */
public final class MeanRate implements Metric {
    private final String id;
    private final long spanNs;
    private final boolean relative;

    /**
     * Makes the metric.
     *
     * @param ms time after the onset in milliseconds, 1 to 10,000.
     * @param relative whether it is given as a share of the peak force per second.
     */
    public MeanRate(int ms, boolean relative) {
        spanNs = Early.spanNs(ms);
        this.relative = relative;
        id = "rfd.0-" + ms + (relative ? "ms.per-peak" : "ms");
    }

    @Override
    public String id() {
        return id;
    }

    @Override
    public String unit() {
        return relative ? "1/s" : "N/s";
    }

    @Override
    public Description describe() {
        String span = Early.span(spanNs);
        String base = "Force above the resting level " + span + " after the onset, over " + span;
        return new Description(
                "Rate of force development, 0 to " + span + (relative ? ", of the peak" : ""),
                relative
                        ? base + " and over the peak force: the share of the peak gained per second."
                        : base + "; unfiltered.",
                RateWords.NOT_COMPUTED + " The contraction is shorter than " + span + ".",
                relative
                        ? "Resolution, noise, onset times slope, zero of the peak; the calibration cancels."
                        : "As of the force at " + span + ", over " + span + ".",
                "Maffiuletti et al. 2016, Eur J Appl Physiol 116:1091-1116.");
    }

    @Override
    public MetricValue compute(Window window) {
        Trace t = Trace.of(window);
        String reason = refused(t);
        if (reason != null) {
            return MetricValue.notComputed(id(), reason);
        }
        double spanS = spanNs * 1e-9;
        double rate = ForceAt.riseN(t, spanNs) / spanS;
        UncertaintyBudget budget = ForceAt.budget(t, spanNs).scaled(1 / spanS);
        return relative ? share(t, rate, budget) : MetricValue.of(id(), rate, budget, t.unit("/s"));
    }

    @Override
    public List<MetricMark> marks(Window window) {
        Trace t = Trace.of(window);
        if (relative || refused(t) != null) {
            return List.of();
        }
        long endNs = t.onsetNs() + spanNs;
        return List.of(MetricMark.slope(id(), t.onsetNs(), endNs, t.restingLevelN(), t.forceAt(endNs)));
    }

    private @Nullable String refused(Trace t) {
        String reason = RateGates.refused(t, spanNs);
        return reason == null ? Early.refused(t, spanNs) : reason;
    }

    private MetricValue share(Trace t, double rate, UncertaintyBudget budget) {
        SlidingMean peak = t.peak();
        if (peak == null || !(peak.meanN() > 0)) {
            return MetricValue.notComputed(id(), "there is no peak force above zero");
        }
        double share = rate / peak.meanN();
        UncertaintyBudget u = Relative.ofRise(budget, PeakForce.budget(t, peak), share, peak.meanN());
        return MetricValue.of(id(), share, u, unit());
    }
}
