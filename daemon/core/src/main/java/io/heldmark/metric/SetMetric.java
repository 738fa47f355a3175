package io.heldmark.metric;

import io.heldmark.model.MetricValue;
import java.util.List;

/** One figure of a set of contractions of one limb: a pure function of the same metric of each, in the order of the set. */
public interface SetMetric {
    /** Returns the stable id, for example {@code fatigue.set.last}. */
    String id();

    /** Returns the unit symbol. */
    String unit();

    /** Returns what the documentation says of it. */
    Metric.Description describe();

    /** Computes it from the peak forces of the set, or says why not. */
    MetricValue compute(List<MetricValue> peaks);
}
