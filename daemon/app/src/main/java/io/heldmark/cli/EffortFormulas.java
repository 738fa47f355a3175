package io.heldmark.cli;

import io.heldmark.metric.CellPair;
import io.heldmark.metric.PeakForce;
import io.heldmark.metric.PublishedAsymmetry;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Contraction;
import io.heldmark.model.Effort;
import io.heldmark.model.MetricValue;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/** Published asymmetries of efforts, as asked for by name; remembers the peak forces where any is asked for. */
final class EffortFormulas {
    /**
     * One asymmetry.
     *
     * @param metric the formula.
     * @param value what it comes to.
     */
    record Value(PublishedAsymmetry metric, MetricValue value) {}

    private record Peak(MetricValue force, ChannelInfo channel) {}

    private final List<PublishedAsymmetry> formulas;
    private final Map<Long, Peak> peaks = new HashMap<>();

    EffortFormulas(List<PublishedAsymmetry> formulas) {
        this.formulas = List.copyOf(formulas);
    }

    void onContraction(Contraction c, ChannelInfo channel) {
        if (!formulas.isEmpty()) {
            c.metrics().stream()
                    .filter(value -> value.id().equals(PeakForce.ID))
                    .forEach(value -> peaks.put(c.id(), new Peak(value, channel)));
        }
    }

    /** Returns the asymmetries of an effort; the mismatch of the cells is NaN where they were not compared. */
    List<Value> of(Effort e, double mismatchRelativeU) {
        Peak left = peaks.get(e.leftContractionId());
        Peak right = peaks.get(e.rightContractionId());
        if (left == null || right == null) {
            return List.of();
        }
        CellPair cells = CellPair.of(left.channel(), right.channel(), mismatchRelativeU);
        return formulas.stream()
                .map(f -> new Value(f, f.compute(left.force(), right.force(), cells)))
                .toList();
    }
}
