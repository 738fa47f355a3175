package io.heldmark.model;

import org.jspecify.annotations.Nullable;

/**
 * One metric of one contraction: a quantity, or the reason why there is none.
 *
 * @param id stable metric id, for example {@code force.peak}.
 * @param quantity the value with its uncertainty; absent where it could not be computed.
 * @param notComputed reason in plain words; present exactly where the quantity is absent.
 */
public record MetricValue(
        String id, @Nullable Quantity quantity, @Nullable String notComputed) {
    /** Checks that exactly one of the two is there. */
    public MetricValue {
        if ((quantity == null) == (notComputed == null)) {
            throw new IllegalArgumentException("exactly one of quantity and notComputed: id=" + id);
        }
    }

    /** Returns a computed metric. */
    public static MetricValue of(String id, double value, double standardUncertainty, String unit) {
        return new MetricValue(id, new Quantity(value, standardUncertainty, unit), null);
    }

    /** Returns a metric that could not be computed, with the reason in plain words. */
    public static MetricValue notComputed(String id, String reason) {
        return new MetricValue(id, null, reason);
    }
}
