package io.heldmark.metric;

import io.heldmark.model.MetricValue;
import io.heldmark.model.TestConditions.EffortType;
import io.heldmark.model.UncertaintyBudget;
import io.heldmark.model.UncertaintySource;
import io.heldmark.model.Window;
import org.jspecify.annotations.Nullable;

/**
 * One limb's part of an eccentric lower: mean force, mean force of each third of the time, time of the peak.
 *
 * <p><b>Formula.</b> Mean: integral of F over [a, b] / (b - a), by trapezoids, F relative to the session zero; of the whole from
 * onset to offset, or of one third of that time. Time of the peak: from the onset to the middle of the 100 ms of {@code
 * force.peak}. Thirds let both limbs be compared through the lowering; angles and work need an angle channel.
 *
 * <p><b>Uncertainty.</b> Of means: {@link DeviceUncertainty#mean}, and what the boundaries change: (F(b) - mean) u(b) / (b - a),
 * likewise at a. Of the time: as {@code time.to-peak}.
 *
 * <p><b>Degenerate.</b> Only of trials that the plan calls eccentric; samples missing, or no peak force: not computed.
 *
 * <p><b>Source.</b> The project's definition, no published source.
 */
public final class Lowering implements Metric {
    /** What of the lowering. */
    public enum Part {
        /** All of it. */
        WHOLE("force.mean.lowering", "Mean force of the lowering", 0, 3),
        /** Its first third. */
        FIRST("force.mean.lowering.first-third", "Mean force, first third of the lowering", 0, 1),
        /** Its middle third. */
        MIDDLE("force.mean.lowering.middle-third", "Mean force, middle third of the lowering", 1, 2),
        /** Its last third. */
        LAST("force.mean.lowering.last-third", "Mean force, last third of the lowering", 2, 3),
        /** When it was strongest. */
        PEAK_TIME("time.of-peak.lowering", "Time of the peak of the lowering", 0, 3);

        private final String id;
        private final String title;
        private final int fromThird;
        private final int toThird;

        Part(String id, String title, int fromThird, int toThird) {
            this.id = id;
            this.title = title;
            this.fromThird = fromThird;
            this.toThird = toThird;
        }
    }

    private final Part part;

    /** Makes the metric. */
    public Lowering(Part part) {
        this.part = part;
    }

    /** Tells whether a trial is an eccentric lower. */
    static boolean is(Trace t) {
        return t.conditions().effortType() == EffortType.ECCENTRIC;
    }

    @Override
    public String id() {
        return part.id;
    }

    @Override
    public String unit() {
        return part == Part.PEAK_TIME ? "s" : "N";
    }

    @Override
    public Description describe() {
        boolean time = part == Part.PEAK_TIME;
        return new Description(
                part.title,
                time
                        ? "From the onset to the middle of the 100 ms of the peak force."
                        : "Integral of the force relative to the session zero over that part of the time from onset to offset,"
                                + " over its length.",
                "The plan does not call the trial eccentric, samples are missing between onset and offset, or there is no peak"
                        + " force.",
                time
                        ? "Onset, sampling, and how far stretches that noise cannot tell from the highest lie apart."
                        : "Calibration, zero, resolution, noise, onset and offset.",
                "The project's definition, no published source.");
    }

    @Override
    public MetricValue compute(Window window) {
        Trace t = Trace.of(window);
        String reason = refused(t);
        if (reason != null) {
            return MetricValue.notComputed(id(), reason);
        }
        SlidingMean peak = t.peak();
        if (peak == null) {
            return MetricValue.notComputed(id(), "there is no peak force");
        }
        return part == Part.PEAK_TIME ? TimeToPeak.value(id(), t, peak) : mean(t);
    }

    private static @Nullable String refused(Trace t) {
        if (!is(t)) {
            return "not an eccentric lower";
        }
        return t.missingInside() ? "samples are missing between onset and offset" : null;
    }

    private MetricValue mean(Trace t) {
        long third = t.offsetNs() - t.onsetNs();
        long fromNs = t.onsetNs() + third * part.fromThird / 3;
        long toNs = t.onsetNs() + third * part.toThird / 3;
        Area area = Area.between(t, fromNs, toNs);
        double spanS = area.lengthS();
        double aboveN = area.impulseNs() / spanS;
        double meanN = t.restingLevelN() + aboveN;
        // A boundary at a share s of the time moves by (1 - s) of the onset's error and s of the offset's.
        double fromS = part.fromThird / 3.0;
        double toS = part.toThird / 3.0;
        double fromWeight = (aboveN - area.fromN()) / spanS;
        double toWeight = (area.toN() - aboveN) / spanS;
        double onset = (fromWeight * (1 - fromS) + toWeight * (1 - toS)) * t.onsetStandardUncertaintyNs() * 1e-9;
        double offset = (fromWeight * fromS + toWeight * toS) * t.offsetStandardUncertaintyNs() * 1e-9;
        UncertaintyBudget budget = UncertaintyBudget.builder()
                .add(t.uncertainty().mean(meanN, spanS / (t.periodNs() * 1e-9), spanS))
                .add(UncertaintySource.TIMING, onset)
                .add(UncertaintySource.TIMING, offset)
                .build();
        return MetricValue.of(id(), meanN, budget, t.unit(""));
    }
}
