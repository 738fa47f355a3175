package io.heldmark.metric;

import io.heldmark.model.MetricValue;
import io.heldmark.model.UncertaintyBudget;
import io.heldmark.model.UncertaintySource;
import io.heldmark.model.Window;
import java.util.Locale;

/**
 * Time from the onset to the peak.
 *
 * <p><b>Formula.</b> Middle of the 100-ms stretch of {@code force.peak} less the onset. Its standard uncertainty adds in
 * squares: the onset's; the stretch's place among samples, period / sqrt(12); and how well the peak can be told from its
 * neighbours, (last - first) / sqrt(12) over the middles of all stretches whose mean lies within two of its noise standard
 * deviations of the highest (rectangular).
 *
 * <p><b>Degenerate.</b> No peak: not computed. A rise slower than 200 N/s over its first 100 ms was ramped: the time was the
 * person's choice, not computed.
 *
 * <p><b>Source.</b> Common practice, no published source; rectangular: GUM (JCGM 100:2008) 4.3.7.
 */
public final class TimeToPeak implements Metric {
    private static final long RISE_NS = 100_000_000L;
    private static final double EXPLOSIVE_N_PER_S = 200;

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
                "There is no peak force, samples are missing between onset and offset, or the force rose by less than 200 N/s"
                        + " over the first 100 ms: of a ramped hold the time to peak says nothing.",
                "Onset, sampling, and how far stretches that noise cannot tell from the highest lie apart.",
                "Common practice, no published source.");
    }

    @Override
    public MetricValue compute(Window w) {
        if (Samples.missingInside(w)) {
            return MetricValue.notComputed(id(), "samples are missing between onset and offset");
        }
        SlidingMean best = SlidingMean.highest(w, PeakForce.SPAN_NS);
        if (best == null) {
            return MetricValue.notComputed(id(), "there is no peak force");
        }
        double slope = slopeNPerS(w);
        if (!(slope >= EXPLOSIVE_N_PER_S)) {
            return MetricValue.notComputed(
                    id(),
                    String.format(
                            Locale.ROOT,
                            "ramped: %.0f N/s over the first 100 ms, explosive is 200 N/s or more",
                            slope));
        }
        double value = (best.middleNs() - w.onsetNs()) * 1e-9;
        double sampling = Samples.periodNs(w) / Math.sqrt(12);
        UncertaintyBudget budget = UncertaintyBudget.builder()
                .add(UncertaintySource.TIMING, w.onsetStandardUncertaintyNs() * 1e-9)
                .add(UncertaintySource.TIMING, sampling * 1e-9)
                .add(UncertaintySource.PLACE, spreadNs(w, best) / Math.sqrt(12) * 1e-9)
                .build();
        return MetricValue.of(id(), value, budget, unit());
    }

    private static double slopeNPerS(Window w) {
        int i = w.onsetIndex();
        while (i < w.size() - 1 && w.timeNs(i) < w.onsetNs() + RISE_NS) {
            i++;
        }
        double riseN = Samples.forceAt(w, i, w.onsetNs() + RISE_NS) - w.restingLevelN();
        return riseN / (RISE_NS * 1e-9);
    }

    /** Time between the first and the last stretch that noise cannot tell from the highest. */
    private static double spreadNs(Window w, SlidingMean best) {
        DeviceUncertainty u = DeviceUncertainty.of(w);
        double noise = Math.sqrt(Samples.noiseVariance(u, best.samples(), PeakForce.SPAN_NS * 1e-9));
        double[] range = {best.middleNs(), best.middleNs()};
        SlidingMean.each(w, PeakForce.SPAN_NS, stretch -> {
            if (stretch.meanN() >= best.meanN() - 2 * noise) {
                range[0] = Math.min(range[0], stretch.middleNs());
                range[1] = Math.max(range[1], stretch.middleNs());
            }
        });
        return range[1] - range[0];
    }
}
