package io.heldmark.metric;

import io.heldmark.model.MetricValue;
import io.heldmark.model.Quantity;
import io.heldmark.model.UncertaintyBudget;
import io.heldmark.model.UncertaintySource;
import io.heldmark.model.UncertaintyTerm;
import java.util.List;

/**
 * Fall of the peak force over a set of contractions.
 *
 * <p><b>Formula.</b> With P the highest of the peak forces. Last: 100 (1 - last / P). Mean: 100 (1 - mean / P), the decrement of
 * the whole set against n efforts as strong as the best.
 *
 * <p><b>Uncertainty.</b> To first order in each peak. What is the same in all of them shifts (zero, drift) or scales them
 * (calibration, direction of the pull: cancels); the rest is independent.
 *
 * <p><b>Degenerate.</b> Fewer than two contractions, one without a peak force, units that differ, or a highest peak not above
 * zero: not computed. Nor is the fall to the last where the last is the highest: it would be 0 by definition, without an
 * uncertainty.
 *
 * <p><b>Source.</b> Percentage decrement: Glaister et al. 2008, J Strength Cond Res 22:1597-1601 (from memory); last against
 * highest: common practice, no published source.
 */
public final class SetFatigue implements SetMetric {
    private final boolean ofMean;

    /**
     * Makes the metric.
     *
     * @param ofMean whether of the mean of the set, else of its last contraction.
     */
    public SetFatigue(boolean ofMean) {
        this.ofMean = ofMean;
    }

    @Override
    public String id() {
        return ofMean ? "fatigue.set.mean" : "fatigue.set.last";
    }

    @Override
    public String unit() {
        return "%";
    }

    @Override
    public Metric.Description describe() {
        return new Metric.Description(
                ofMean ? "Fatigue over the set (mean)" : "Fatigue over the set (last)",
                ofMean
                        ? "100 · (1 - mean of the peak forces / highest of them)."
                        : "100 · (1 - last peak force / highest of the set).",
                "The set has fewer than two contractions, or one of them has no peak force, or the highest is not above zero"
                        + (ofMean ? "." : "; or the last is the highest."),
                "Noise, resolution, zero; the calibration cancels.",
                ofMean
                        ? "Glaister et al. 2008, J Strength Cond Res 22:1597-1601 (from memory)."
                        : "Common practice, no published source.");
    }

    @Override
    public MetricValue compute(List<MetricValue> peaks) {
        int n = peaks.size();
        if (n < 2) {
            return MetricValue.notComputed(id(), "a set has at least two contractions");
        }
        double[] force = new double[n];
        String unit = "";
        int highest = 0;
        for (int i = 0; i < n; i++) {
            Quantity q = peaks.get(i).quantity();
            if (q == null) {
                return MetricValue.notComputed(id(), "contraction " + (i + 1) + " has no peak force");
            }
            if (i > 0 && !q.unit().equals(unit)) {
                return MetricValue.notComputed(id(), "contraction " + (i + 1) + " has another unit");
            }
            unit = q.unit();
            force[i] = q.value();
            highest = force[i] > force[highest] ? i : highest;
        }
        if (!(force[highest] > 0)) {
            return MetricValue.notComputed(id(), "the highest peak force is not above zero");
        }
        if (!ofMean && highest == n - 1) {
            return MetricValue.notComputed(id(), "the last contraction is the strongest: there is no fall to state");
        }
        return value(peaks, force, highest);
    }

    private MetricValue value(List<MetricValue> peaks, double[] force, int highest) {
        int n = force.length;
        double top = force[highest];
        double[] slope = new double[n]; // Of the share with respect to each peak.
        double share = 0;
        for (int i = 0; i < n; i++) {
            double weight = weight(i, n);
            share += weight * force[i] / top;
            slope[i] = weight / top;
        }
        slope[highest] -= share / top;
        UncertaintyBudget.Builder budget = UncertaintyBudget.builder();
        for (int i = 0; i < n; i++) {
            addIndependent(budget, peaks.get(i), 100 * slope[i]);
        }
        addShift(budget, peaks.get(highest), 100 * (1 - share) / top);
        return MetricValue.of(id(), 100 * (1 - share), budget.build(), unit());
    }

    private double weight(int index, int n) {
        if (ofMean) {
            return 1.0 / n;
        }
        return index == n - 1 ? 1 : 0;
    }

    private static void addIndependent(UncertaintyBudget.Builder out, MetricValue peak, double factor) {
        UncertaintyBudget parts = peak.budget();
        Quantity q = peak.quantity();
        if (parts == null) {
            out.add(UncertaintySource.NOISE, q == null ? 0 : factor * q.standardUncertainty());
            return;
        }
        for (UncertaintyTerm term : parts.terms()) {
            if (!term.source().systematic()) {
                out.add(term.source(), factor * term.standardUncertainty(), term.degreesOfFreedom());
            }
        }
    }

    private static void addShift(UncertaintyBudget.Builder out, MetricValue peak, double factor) {
        UncertaintyBudget parts = peak.budget();
        if (parts != null) {
            out.add(UncertaintySource.ZERO, factor * parts.of(UncertaintySource.ZERO));
            out.add(UncertaintySource.DRIFT, factor * parts.of(UncertaintySource.DRIFT));
        }
    }
}
