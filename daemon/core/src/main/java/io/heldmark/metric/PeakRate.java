package io.heldmark.metric;

import io.heldmark.model.MetricMark;
import io.heldmark.model.MetricValue;
import io.heldmark.model.UncertaintyBudget;
import io.heldmark.model.Window;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Highest rate of force development over 20 ms.
 *
 * <p><b>Formula.</b> max over t &gt;= t_on of (F(t + 20 ms) - F(t)) / 20 ms, t the onset or a sample, both ends before the
 * offset; F drawn straight between samples, unfiltered.
 *
 * <p><b>Caveat.</b> The highest of many noisy slopes lies above the true one, as a rule by 1 to 2.5 times the root of two noise
 * SD over 20 ms. The value keeps it, the uncertainty holds it.
 *
 * <p><b>Uncertainty.</b> {@link DeviceUncertainty#slope}: calibration of the rise, rounding and noise of both ends; {@link Lift} of the
 * rises over 20 ms that noise cannot tell from the highest. The onset
 * does not enter: the highest slope does not change to first order with where the search begins.
 *
 * <p><b>Degenerate.</b> As {@link MeanRate} over 20 ms; samples missing inside.
 *
 * <p><b>Source.</b> Moving 20-ms window: Maffiuletti et al. 2016, Eur J Appl Physiol 116:1091-1116 (from memory).
 */
public final class PeakRate implements Metric {
    private static final long SPAN_NS = 20_000_000L;

    @Override
    public String id() {
        return "rfd.peak-20ms";
    }

    @Override
    public String unit() {
        return "N/s";
    }

    @Override
    public Description describe() {
        return new Description(
                "Highest rate of force development over 20 ms",
                "Highest (F(t + 20 ms) - F(t)) / 20 ms from the onset on; unfiltered. Noise lifts it: the highest of many.",
                RateWords.NOT_COMPUTED + " Samples are missing between onset and offset.",
                "Calibration, resolution and noise of both ends, and the expected lift by noise, so that U (k = 2) is twice all else plus the lift.",
                "Maffiuletti et al. 2016, Eur J Appl Physiol 116:1091-1116 (the window of 20 ms, from memory).");
    }

    @Override
    public MetricValue compute(Window window) {
        Trace t = Trace.of(window);
        String reason = refused(t);
        if (reason != null) {
            return MetricValue.notComputed(id(), reason);
        }
        double spanS = SPAN_NS * 1e-9;
        long fromNs = steepestNs(t);
        double fromN = t.forceAt(fromNs);
        double toN = t.forceAt(fromNs + SPAN_NS);
        UncertaintyBudget one = t.uncertainty().slope(Reading.at(toN, 0), Reading.at(fromN, 0), spanS, 0);
        return MetricValue.of(id(), (toN - fromN) / spanS, lift(t).budget(one, 1 / spanS), t.unit("/s"));
    }

    @Override
    public List<MetricMark> marks(Window window) {
        Trace t = Trace.of(window);
        if (refused(t) != null) {
            return List.of();
        }
        long fromNs = steepestNs(t);
        long toNs = fromNs + SPAN_NS;
        return List.of(MetricMark.slope(id(), fromNs, toNs, t.forceAt(fromNs), t.forceAt(toNs)));
    }

    /** The lift of the highest rise over 20 ms, two blocks. */
    private static Lift lift(Trace t) {
        double[] means = t.blocks();
        int apart = (int) (SPAN_NS / Lift.BLOCK_NS);
        double[] rises = new double[Math.max(1, means.length - apart)];
        for (int k = 0; k + apart < means.length; k++) {
            rises[k] = means[k + apart] - means[k];
        }
        double noise = Math.sqrt(2 * t.uncertainty().noiseVariance(Reading.at(0, 0)));
        return Lift.of(rises, noise, Lift.independent(t));
    }

    private static @Nullable String refused(Trace t) {
        String reason = RateGates.refused(t, SPAN_NS);
        if (reason == null) {
            reason = Early.refused(t, SPAN_NS);
        }
        return reason == null && t.missingInside() ? "samples are missing between onset and offset" : reason;
    }

    /** Returns where the steepest 20 ms begin, the earliest of equals. */
    private static long steepestNs(Trace t) {
        long fromNs = t.onsetNs();
        double riseN = t.forceAt(fromNs + SPAN_NS) - t.forceAt(fromNs);
        int to = t.onsetIndex();
        for (int i = t.onsetIndex(); i <= t.offsetIndex() && t.timeNs(i) + SPAN_NS <= t.offsetNs(); i++) {
            long endNs = t.timeNs(i) + SPAN_NS;
            while (to < t.size() && t.timeNs(to) < endNs) {
                to++;
            }
            if (t.forceN(Math.min(to, t.size() - 1)) - t.forceN(i) <= riseN
                    && t.forceN(to - 1) - t.forceN(i) <= riseN) {
                continue; // The line between the two cannot be higher than both.
            }
            double next = Samples.forceAt(t, to, endNs) - t.forceN(i);
            if (next > riseN) {
                riseN = next;
                fromNs = t.timeNs(i);
            }
        }
        return fromNs;
    }
}
