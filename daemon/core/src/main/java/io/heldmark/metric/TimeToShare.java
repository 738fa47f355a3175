package io.heldmark.metric;

import io.heldmark.model.MetricValue;
import io.heldmark.model.UncertaintyBudget;
import io.heldmark.model.UncertaintySource;
import io.heldmark.model.Window;

/**
 * Time from the onset until the force reaches a share of its peak.
 *
 * <p><b>Formula.</b> With the level L = F_rest + p (F_peak - F_rest), F_peak the 100-ms mean of {@code force.peak}: the middle
 * between the first crossing of L and the last upward one within 20 ms after it, less the onset. Crossings are drawn straight
 * between samples, unfiltered; without noise there is one.
 *
 * <p><b>Uncertainty.</b> In squares: the onset's; noise of a sample, of the peak's 100 ms and of the resting level over the slope
 * of the force at the crossing; half the distance of the two crossings as rectangular. What scales the force cancels.
 *
 * <p><b>Degenerate.</b> No peak, samples missing inside, a ramp ({@link RateGates#ramped}), or a force that is at L already at
 * the onset: not computed.
 *
 * <p><b>Source.</b> Common practice, no published source.
 */
public final class TimeToShare implements Metric {
    private static final long SETTLED_NS = 20_000_000L;

    private final int percent;

    /**
     * Makes the metric.
     *
     * @param percent the share of the peak in percent, 1 to 99.
     */
    public TimeToShare(int percent) {
        if (percent < 1 || percent > 99) {
            throw new IllegalArgumentException("percent is 1 to 99: percent=" + percent);
        }
        this.percent = percent;
    }

    @Override
    public String id() {
        return "time.to-" + percent + "percent";
    }

    @Override
    public String unit() {
        return "s";
    }

    @Override
    public Description describe() {
        return new Description(
                "Time to " + percent + " % of the peak",
                "From the onset until the force above the resting level crosses " + percent
                        + " % of the peak force above it;"
                        + " where noise makes it cross more than once within 20 ms, the middle.",
                "There is no peak force, samples are missing between onset and offset, the force was at that level already, or"
                        + " it was ramped: the cue was, or it rose by less than 200 N/s over the first 100 ms.",
                "Onset; noise over the slope of the force there; several crossings. The calibration cancels.",
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
        if (ramped != null) {
            return MetricValue.notComputed(id(), ramped);
        }
        double levelN = t.restingLevelN() + percent / 100.0 * (peak.meanN() - t.restingLevelN());
        if (t.onsetIndex() == 0 || t.forceAt(t.onsetNs()) >= levelN) {
            return MetricValue.notComputed(id(), "the force was at " + percent + " % already");
        }
        return crossing(t, levelN, peak);
    }

    private MetricValue crossing(Trace t, double levelN, SlidingMean peak) {
        int i = t.onsetIndex();
        while (i < t.size() - 1 && t.forceN(i) < levelN) {
            i++;
        }
        double firstNs = crossingNs(t, i, levelN);
        double lastNs = firstNs;
        for (int k = i + 1; k < t.size() && t.timeNs(k) <= firstNs + SETTLED_NS; k++) {
            if (t.forceN(k - 1) < levelN && t.forceN(k) >= levelN) {
                lastNs = crossingNs(t, k, levelN);
            }
        }
        double atNs = (firstNs + lastNs) / 2;
        UncertaintyBudget budget = budget(t, atNs, lastNs - firstNs, peak);
        return MetricValue.of(id(), (atNs - t.onsetNs()) * 1e-9, budget, unit());
    }

    /** Time at which the straight line to a sample from the one before it, or from the onset, meets the level. */
    private static double crossingNs(Trace t, int index, double levelN) {
        boolean fromOnset = t.timeNs(index - 1) < t.onsetNs();
        double fromNs = fromOnset ? t.onsetNs() : t.timeNs(index - 1);
        double fromN = fromOnset ? t.forceAt(t.onsetNs()) : t.forceN(index - 1);
        double share = (levelN - fromN) / (t.forceN(index) - fromN);
        return fromNs + share * (t.timeNs(index) - fromNs);
    }

    private UncertaintyBudget budget(Trace t, double atNs, double apartNs, SlidingMean peak) {
        DeviceUncertainty u = t.uncertainty();
        double p = percent / 100.0;
        double sample = u.noiseVariance(Reading.at(0, 0));
        double highest = u.noiseVariance(Reading.mean(0, peak.samples(), PeakForce.SPAN_NS * 1e-9));
        double rest = u.noiseVariance(t.rest());
        double noise = Math.sqrt(sample + p * p * highest + (1 - p) * (1 - p) * rest);
        double slope = Math.max(Math.abs(t.slopeNPerS(Math.round(atNs))), RateGates.EXPLOSIVE_N_PER_S / 10);
        return UncertaintyBudget.builder()
                .add(UncertaintySource.TIMING, t.onsetStandardUncertaintyNs() * 1e-9)
                .add(UncertaintySource.NOISE, noise / slope)
                .add(UncertaintySource.PLACE, apartNs / 2 / Math.sqrt(3) * 1e-9)
                .build();
    }
}
