package io.heldmark.metric;

import io.heldmark.model.MetricValue;
import io.heldmark.model.UncertaintyBudget;
import io.heldmark.model.UncertaintySource;
import io.heldmark.model.Window;

/**
 * Duration of the contraction.
 *
 * <p><b>Formula.</b> Offset less onset; the offset is where the force above the resting level is back at 5 % of what it was
 * when the release began. u = sqrt(u_on^2 + u_off^2); the alignment of the channel's time is common to both and cancels.
 *
 * <p><b>Degenerate.</b> None: missing samples inside do not change the boundaries.
 *
 * <p><b>Source.</b> The project's definition, no published source.
 */
public final class Duration implements Metric {
    @Override
    public String id() {
        return "duration";
    }

    @Override
    public String unit() {
        return "s";
    }

    @Override
    public Description describe() {
        return new Description(
                "Duration",
                "From onset to offset, where the force above the resting level is back at 5 % of what it was when the release"
                        + " began.",
                "Always computed; the flags tell where an end was not seen.",
                "Onset and offset.",
                "The project's definition, no published source.");
    }

    @Override
    public MetricValue compute(Window w) {
        UncertaintyBudget budget = UncertaintyBudget.builder()
                .add(UncertaintySource.TIMING, w.onsetStandardUncertaintyNs() * 1e-9)
                .add(UncertaintySource.TIMING, w.offsetStandardUncertaintyNs() * 1e-9)
                .build();
        return MetricValue.of(id(), (w.offsetNs() - w.onsetNs()) * 1e-9, budget, unit());
    }
}
