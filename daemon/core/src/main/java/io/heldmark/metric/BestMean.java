package io.heldmark.metric;

import io.heldmark.model.MetricMark;
import io.heldmark.model.MetricValue;
import io.heldmark.model.Window;
import java.util.List;

/**
 * Highest mean of the force over a stated time.
 *
 * <p><b>Formula.</b> max over s of mean{F(t): s &lt;= t &lt; s + T}, F relative to the session zero; see {@link SlidingMean}.
 *
 * <p><b>Degenerate.</b> A contraction shorter than T, or no stretch of T without missing samples: not computed.
 *
 * <p><b>Source.</b> Common practice, no published source; uncertainty: {@link DeviceUncertainty}.
 */
public final class BestMean implements Metric {
    private final String id;
    private final long spanNs;

    /**
     * Makes the metric.
     *
     * @param id its id.
     * @param spanS length of the stretch, over 0 s.
     */
    public BestMean(String id, double spanS) {
        if (!(spanS > 0 && spanS <= 600)) {
            throw new IllegalArgumentException("spanS is over 0, up to 600: spanS=" + spanS);
        }
        this.id = id;
        spanNs = Math.round(spanS * 1e9);
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
        String span = span(spanNs);
        return new Description(
                "Best mean over " + span,
                "Highest mean over " + span
                        + " between onset and offset, relative to the session zero; the resting level is"
                        + " not subtracted.",
                "The contraction is shorter than " + span + ", or samples are missing in every such stretch.",
                "Calibration, zero, resolution, noise of a mean over " + span + ".",
                "Common practice, no published source.");
    }

    @Override
    public MetricValue compute(Window window) {
        return value(id, window, spanNs);
    }

    @Override
    public List<MetricMark> marks(Window window) {
        return marks(id, window, spanNs);
    }

    /** Returns the stretch of the highest mean. */
    static List<MetricMark> marks(String id, Window w, long spanNs) {
        Trace t = Trace.of(w);
        SlidingMean best = spanNs == PeakForce.SPAN_NS ? t.peak() : SlidingMean.highest(t, spanNs);
        if (best == null) {
            return List.of();
        }
        long fromNs = w.timeNs(best.firstIndex());
        return List.of(MetricMark.level(id, fromNs, fromNs + spanNs, best.meanN()));
    }

    /** Computes the highest mean over a span with its uncertainty, or says why not. */
    static MetricValue value(String id, Window w, long spanNs) {
        Trace t = Trace.of(w);
        SlidingMean best = spanNs == PeakForce.SPAN_NS ? t.peak() : SlidingMean.highest(t, spanNs);
        if (best == null) {
            return MetricValue.notComputed(id, reason(t, spanNs));
        }
        return MetricValue.of(
                id,
                best.meanN(),
                t.uncertainty().mean(best.meanN(), best.samples(), spanNs * 1e-9),
                w.channel().unit());
    }

    /** Says why there is no whole stretch of a span. */
    static String reason(Trace w, long spanNs) {
        double lengthS = (w.offsetNs() - w.onsetNs()) * 1e-9;
        if (lengthS < spanNs * 1e-9) {
            return "the contraction lasts " + Decimals.of(lengthS, 2) + " s, shorter than " + span(spanNs);
        }
        return "samples are missing in every stretch of " + span(spanNs);
    }

    private static String span(long spanNs) {
        return spanNs < 1_000_000_000L ? spanNs / 1_000_000 + " ms" : plain(spanNs * 1e-9) + " s";
    }

    private static String plain(double value) {
        return value == Math.rint(value) ? Long.toString((long) value) : Double.toString(value);
    }
}
