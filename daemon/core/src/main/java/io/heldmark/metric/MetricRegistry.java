package io.heldmark.metric;

import io.heldmark.model.MetricMark;
import io.heldmark.model.MetricValue;
import io.heldmark.model.Window;
import java.util.ArrayList;
import java.util.List;

/** Every metric of a contraction, in the order of results and documentation. Adding one is one class and one line here. */
public final class MetricRegistry {
    private static final int[] EARLY_MS = {50, 100, 150, 200, 250};

    private final List<Metric> metrics;

    /** Makes a registry of the given metrics; ids must differ. */
    public MetricRegistry(List<Metric> metrics) {
        this.metrics = List.copyOf(metrics);
        long different = metrics.stream().map(Metric::id).distinct().count();
        if (different != metrics.size()) {
            throw new IllegalArgumentException("metric ids must differ");
        }
    }

    /** Returns the metrics that every contraction gets that can have them ({@link Metric#isFor}). */
    public static MetricRegistry standard() {
        List<Metric> all = new ArrayList<>();
        addForces(all);
        addRates(all);
        addWhole(all);
        addTorques(all);
        for (boolean best : new boolean[] {false, true}) {
            all.add(new PlatePlace(true, best));
            all.add(new PlatePlace(false, best));
        }
        for (Lowering.Part part : Lowering.Part.values()) {
            all.add(new Lowering(part));
        }
        return new MetricRegistry(all);
    }

    private static void addForces(List<Metric> all) {
        all.add(new PeakForce());
        all.add(new PeakSample());
        all.add(new BestMean("force.mean.best-1s", 1));
        all.add(new BestMean("force.mean.best-3s", 3));
        all.add(new RestingLevel());
        for (int ms : EARLY_MS) {
            all.add(new ForceAt(ms));
        }
        all.add(new TimeToPeak());
        all.add(new TimeToShare(50));
        all.add(new TimeToShare(90));
    }

    private static void addRates(List<Metric> all) {
        for (int ms : EARLY_MS) {
            all.add(new MeanRate(ms, false));
        }
        for (int ms : EARLY_MS) {
            all.add(new MeanRate(ms, true));
        }
        all.add(new PeakRate());
        all.add(new EarlyImpulse(100));
        all.add(new EarlyImpulse(200));
    }

    private static void addWhole(List<Metric> all) {
        all.add(new TotalImpulse());
        all.add(new PlateauVariation(true));
        all.add(new PlateauVariation(false));
        all.add(new HoldFatigue(false));
        all.add(new HoldFatigue(true));
        all.add(new Duration());
    }

    private static void addTorques(List<Metric> all) {
        all.add(new PeakTorque());
        for (PerMass.Form form : PerMass.Form.values()) {
            all.add(new PerMass(form));
        }
    }

    /** Returns the metrics of a set of contractions of one limb. */
    public static List<SetMetric> sets() {
        return List.of(new SetFatigue(false), new SetFatigue(true));
    }

    /** Returns the metrics that every pair of contractions gets. */
    public static List<PairMetric> pairs() {
        return List.of(new LogAsymmetry());
    }

    /** Returns the metrics. */
    public List<Metric> metrics() {
        return metrics;
    }

    /** Returns a copy of a window that metrics and {@link QualityChecks} share what they work out of its samples through. */
    public static Window shared(Window window) {
        return Trace.of(window);
    }

    /** Computes all metrics that a finished window can have. */
    public List<MetricValue> compute(Window window) {
        Trace trace = Trace.of(window);
        List<MetricValue> values = new ArrayList<>(metrics.size());
        for (Metric metric : metrics) {
            if (metric.isFor(trace)) {
                values.add(metric.compute(trace));
            }
        }
        return values;
    }

    /** Returns where in the trace the metrics of a finished window were taken from. */
    public List<MetricMark> marks(Window window) {
        Trace trace = Trace.of(window);
        List<MetricMark> marks = new ArrayList<>();
        for (Metric metric : metrics) {
            marks.addAll(metric.marks(trace));
        }
        return marks;
    }
}
