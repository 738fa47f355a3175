package io.heldmark.pipeline;

import io.heldmark.model.Contraction;
import io.heldmark.model.ContractionFlag;
import io.heldmark.model.Effort;
import io.heldmark.model.MetricValue;
import java.util.List;

/** Takes back what counts from the onset where no rest before a contraction is known; everything else passes. */
final class OnsetlessMetrics implements StationListener {
    static final String REASON = "no quiet rest of 200 ms lies before the contraction, so that its onset is not known";
    private static final List<String> FROM_ONSET = List.of("rfd.", "force.at-", "time.", "impulse.", "duration");

    private final StationListener out;

    OnsetlessMetrics(StationListener out) {
        this.out = out;
    }

    @Override
    public void onContraction(Contraction contraction) {
        boolean onsetKnown = !contraction.flags().contains(ContractionFlag.NO_BASELINE.id());
        out.onContraction(
                onsetKnown
                        ? contraction
                        : contraction.withMetrics(contraction.metrics().stream()
                                .map(OnsetlessMetrics::withoutOnset)
                                .toList()));
    }

    private static MetricValue withoutOnset(MetricValue value) {
        boolean counts = FROM_ONSET.stream().anyMatch(value.id()::startsWith);
        return counts && value.quantity() != null ? MetricValue.notComputed(value.id(), REASON) : value;
    }

    @Override
    public void onEffort(Effort effort) {
        out.onEffort(effort);
    }
}
