package io.heldmark.metric;

import io.heldmark.model.MetricMark;
import io.heldmark.model.MetricValue;
import io.heldmark.model.Window;
import java.util.ArrayList;
import java.util.List;

/** Every metric of a contraction, in the order of results and documentation. Adding one is one class and one line here. */
public final class MetricRegistry {
    private final List<Metric> metrics;

    /** Makes a registry of the given metrics; ids must differ. */
    public MetricRegistry(List<Metric> metrics) {
        this.metrics = List.copyOf(metrics);
        long different = metrics.stream().map(Metric::id).distinct().count();
        if (different != metrics.size()) {
            throw new IllegalArgumentException("metric ids must differ");
        }
    }

    /** Returns the metrics that every contraction gets. */
    public static MetricRegistry standard() {
        return new MetricRegistry(List.of(
                new PeakForce(),
                new PeakSample(),
                new BestMean("force.mean.best-1s", 1),
                new RestingLevel(),
                new TimeToPeak(),
                new TotalImpulse(),
                new Duration()));
    }

    /** Returns the metrics that every pair of contractions gets. */
    public static List<PairMetric> pairs() {
        return List.of(new LogAsymmetry());
    }

    /** Returns the metrics. */
    public List<Metric> metrics() {
        return metrics;
    }

    /** Computes all metrics of a finished window. */
    public List<MetricValue> compute(Window window) {
        List<MetricValue> values = new ArrayList<>(metrics.size());
        for (Metric metric : metrics) {
            values.add(metric.compute(window));
        }
        return values;
    }

    /** Returns where in the trace the metrics of a finished window were taken from. */
    public List<MetricMark> marks(Window window) {
        List<MetricMark> marks = new ArrayList<>();
        for (Metric metric : metrics) {
            marks.addAll(metric.marks(window));
        }
        return marks;
    }
}
