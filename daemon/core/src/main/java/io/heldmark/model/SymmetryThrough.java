package io.heldmark.model;

import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Symmetry of both limbs through an effort, part by part.
 *
 * @param parts by time; empty where there is none.
 * @param notComputed why there is none, in plain words; absent where there is.
 */
public record SymmetryThrough(List<Part> parts, @Nullable String notComputed) {
    /**
     * One part.
     *
     * @param fromNs station time of its begin.
     * @param toNs of its end.
     * @param asymmetry signed log ratio in per cent, or why there is none.
     */
    public record Part(long fromNs, long toNs, MetricValue asymmetry) {}

    /** Copies the list. */
    public SymmetryThrough {
        parts = List.copyOf(parts);
    }
}
