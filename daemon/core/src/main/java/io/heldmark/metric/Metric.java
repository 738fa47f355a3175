package io.heldmark.metric;

import io.heldmark.model.MetricMark;
import io.heldmark.model.MetricValue;
import io.heldmark.model.Window;
import java.util.List;

/** One figure of one contraction: a pure function of its window. */
public interface Metric {
    /** Returns the stable id, for example {@code force.peak}. */
    String id();

    /** Returns the unit symbol for a channel calibrated in newtons. */
    String unit();

    /** Returns what the documentation says of it. */
    Description describe();

    /** Tells whether a window's channel can have it at all; results of others do not name it. */
    default boolean isFor(Window window) {
        return true;
    }

    /** Computes it, or says why not; never throws for data. */
    MetricValue compute(Window window);

    /**
     * Returns where in the trace the value was taken from, for whoever draws it; empty where that cannot be drawn or there
     * is no value. Asked for only when somebody looks, never while measuring.
     */
    default List<MetricMark> marks(Window window) {
        return List.of();
    }

    /**
     * What people must know of a metric; {@code docs/metrics.md} is made from it.
     *
     * @param title name for people.
     * @param formula the definition, in words and symbols.
     * @param notComputed when there is no value.
     * @param uncertainty what its standard uncertainty holds.
     * @param source published source, or "common practice, no published source".
     */
    record Description(String title, String formula, String notComputed, String uncertainty, String source) {}
}
