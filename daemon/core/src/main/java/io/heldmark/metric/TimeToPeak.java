package io.heldmark.metric;

import io.heldmark.model.MetricValue;
import io.heldmark.model.UncertaintyBudget;
import io.heldmark.model.UncertaintySource;
import io.heldmark.model.Window;

/**
 * Time from the onset to the peak.
 *
 * <p><b>Formula.</b> Middle of the 100-ms stretch of {@code force.peak} less the onset. Its standard uncertainty adds in
 * squares: the onset's; the stretch's place among samples, period / sqrt(12); and how well the peak can be told from its
 * neighbours, (last - first) / sqrt(12) over the middles of all stretches whose mean lies within two of its noise standard
 * deviations of the highest (rectangular).
 *
 * <p><b>Degenerate.</b> No peak: not computed. Where the cue was ramped, or the rise slower than 200 N/s over its first 100 ms, the
 * time was the person's choice: not computed ({@link RateGates#ramped}).
 *
 * <p><b>Source.</b> Common practice, no published source; rectangular: GUM (JCGM 100:2008) 4.3.7.
 */
public final class TimeToPeak implements Metric {
    @Override
    public String id() {
        return "time.to-peak";
    }

    @Override
    public String unit() {
        return "s";
    }

    @Override
    public Description describe() {
        return new Description(
                "Time to peak",
                "From the onset to the middle of the 100 ms of the peak force.",
                "There is no peak force, samples are missing between onset and offset, the cue was ramped, or the force rose by"
                        + " less than 200 N/s over the first 100 ms: of a ramped hold the time to peak says nothing.",
                "Onset, sampling, and how far stretches that noise cannot tell from the highest lie apart.",
                "Common practice, no published source.");
    }

    @Override
    public MetricValue compute(Window window) {
        Trace t = Trace.of(window);
        if (t.missingInside()) {
            return MetricValue.notComputed(id(), "samples are missing between onset and offset");
        }
        SlidingMean peak = t.peak();
        if (peak == null) {
            return MetricValue.notComputed(id(), "there is no peak force");
        }
        String ramped = t.ramped();
        return ramped == null ? value(id(), t, peak) : MetricValue.notComputed(id(), ramped);
    }

    /** Returns the time of the peak, whatever the rise was like. */
    static MetricValue value(String id, Trace t, SlidingMean peak) {
        double sampling = t.periodNs() / Math.sqrt(12);
        UncertaintyBudget budget = UncertaintyBudget.builder()
                .add(UncertaintySource.TIMING, t.onsetStandardUncertaintyNs() * 1e-9)
                .add(UncertaintySource.TIMING, sampling * 1e-9)
                .add(UncertaintySource.PLACE, spreadNs(t, peak) / Math.sqrt(12) * 1e-9)
                .build();
        return MetricValue.of(id, (peak.middleNs() - t.onsetNs()) * 1e-9, budget, "s");
    }

    /** Time between the first and the last stretch that noise cannot tell from the highest. */
    private static double spreadNs(Trace t, SlidingMean peak) {
        double spanS = PeakForce.SPAN_NS * 1e-9;
        double noise = Math.sqrt(t.uncertainty().noiseVariance(Reading.mean(0, peak.samples(), spanS)));
        double[] range = {peak.middleNs(), peak.middleNs()};
        SlidingMean.each(t, PeakForce.SPAN_NS, (first, samples, meanN) -> {
            if (meanN >= peak.meanN() - 2 * noise) {
                double middleNs = SlidingMean.middleNs(t, first, samples);
                range[0] = Math.min(range[0], middleNs);
                range[1] = Math.max(range[1], middleNs);
            }
        });
        return range[1] - range[0];
    }
}
