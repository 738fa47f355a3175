package io.heldmark.metric;

import io.heldmark.model.MetricValue;

/** One figure of two limbs: a pure function of the same metric of both. */
public interface PairMetric {
    /** Returns the stable id, for example {@code asymmetry.log}. */
    String id();

    /** Returns the unit symbol. */
    String unit();

    /** Returns what the documentation says of it. */
    Metric.Description describe();

    /** Returns the formula in a few words, shown beside the value. */
    String formula();

    /** Computes it from both limbs' metric and what is known of both cells together, or says why not. */
    MetricValue compute(MetricValue left, MetricValue right, CellPair cells);
}
