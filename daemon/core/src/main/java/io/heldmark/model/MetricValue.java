package io.heldmark.model;

import org.jspecify.annotations.Nullable;

/**
 * One metric of one contraction: a quantity, or the reason why there is none.
 *
 * @param id stable metric id, for example {@code force.peak}.
 * @param quantity the value with its uncertainty; absent where it could not be computed.
 * @param notComputed reason in plain words; present exactly where the quantity is absent.
 * @param budget the parts of the quantity's uncertainty; absent where it was not split up.
 */
public record MetricValue(
        String id,
        @Nullable Quantity quantity,
        @Nullable String notComputed,
        @Nullable UncertaintyBudget budget) {
    /** Checks that exactly one of the two is there. */
    public MetricValue {
        if ((quantity == null) == (notComputed == null)) {
            throw new IllegalArgumentException("exactly one of quantity and notComputed: id=" + id);
        }
    }

    /** Makes a metric whose uncertainty is not split up. */
    public MetricValue(String id, @Nullable Quantity quantity, @Nullable String notComputed) {
        this(id, quantity, notComputed, null);
    }

    /** Returns a computed metric with the parts of its uncertainty. */
    public static MetricValue of(String id, double value, UncertaintyBudget budget, String unit) {
        return new MetricValue(id, new Quantity(value, budget.standardUncertainty(), unit), null, budget);
    }

    /** Returns a computed metric whose uncertainty is not split up. */
    public static MetricValue of(String id, double value, double standardUncertainty, String unit) {
        return new MetricValue(id, new Quantity(value, standardUncertainty, unit), null);
    }

    /** Returns a metric that could not be computed, with the reason in plain words. */
    public static MetricValue notComputed(String id, String reason) {
        return new MetricValue(id, null, reason);
    }
}
