package io.heldmark.model;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * One contraction window of one channel, with the metrics known so far.
 *
 * @param id stable identity within the session, counted from 1 in the order of opening.
 * @param revision how far it has come.
 * @param channel station-wide channel number.
 * @param limb the limb.
 * @param onsetNs station time of the onset.
 * @param onsetStandardUncertaintyNs standard uncertainty of the onset; time alignment included; NaN while provisional.
 * @param releaseStartNs station time at which the release began; 0 while open.
 * @param offsetNs station time of the offset; 0 while open.
 * @param restingLevelN force right before the contraction, relative to the session zero.
 * @param flags what a reader must know, as stable words such as {@code gap-inside}; {@link ContractionFlag} has their texts.
 * @param metrics the metrics, in the order of the registry; empty while open.
 * @param calibratedToN highest force of the calibration, where the load went beyond it; NaN otherwise.
 * @param releaseStartStandardUncertaintyNs standard uncertainty of the release's beginning; time alignment included; NaN where
 *     it is not known.
 * @param offsetStandardUncertaintyNs likewise of the offset.
 */
public record Contraction(
        long id,
        Revision revision,
        int channel,
        Limb limb,
        long onsetNs,
        double onsetStandardUncertaintyNs,
        long releaseStartNs,
        long offsetNs,
        double restingLevelN,
        List<String> flags,
        List<MetricValue> metrics,
        double calibratedToN,
        double releaseStartStandardUncertaintyNs,
        double offsetStandardUncertaintyNs) {
    /** How far a contraction has come. */
    public enum Revision {
        /** Open, or found live and not yet refined. */
        PROVISIONAL,
        /** Finished: boundaries and metrics will not change by themselves. */
        FINAL,
        /** Moved by a person; the final one stays beside it. */
        MANUAL,
        /** Found live, but turned out to be handling: whoever shows it takes it away. Flags say why. */
        WITHDRAWN
    }

    /** Copies the lists. */
    public Contraction {
        flags = List.copyOf(flags);
        metrics = List.copyOf(metrics);
    }

    /** Makes a contraction whose load stayed within the calibration, as far as is known. */
    public Contraction(
            long id,
            Revision revision,
            int channel,
            Limb limb,
            long onsetNs,
            double onsetStandardUncertaintyNs,
            long releaseStartNs,
            long offsetNs,
            double restingLevelN,
            List<String> flags,
            List<MetricValue> metrics) {
        this(
                id,
                revision,
                channel,
                limb,
                onsetNs,
                onsetStandardUncertaintyNs,
                releaseStartNs,
                offsetNs,
                restingLevelN,
                flags,
                metrics,
                Double.NaN,
                Double.NaN,
                Double.NaN);
    }

    /** Returns the quantity of a metric; absent where it was not computed or not asked for. */
    public @Nullable Quantity quantity(String metricId) {
        for (MetricValue value : metrics) {
            if (value.id().equals(metricId)) {
                return value.quantity();
            }
        }
        return null;
    }

    /** Returns the same contraction with flags added, in the order of {@link ContractionFlag}, each once. */
    public Contraction withFlags(List<ContractionFlag> more) {
        List<String> all = new ArrayList<>();
        for (ContractionFlag flag : ContractionFlag.values()) {
            if (flags.contains(flag.id()) || more.contains(flag)) {
                all.add(flag.id());
            }
        }
        return with(all, metrics, calibratedToN, releaseStartStandardUncertaintyNs, offsetStandardUncertaintyNs);
    }

    /** Returns the same contraction without flags. */
    public Contraction withoutFlags(List<ContractionFlag> less) {
        List<String> rest = new ArrayList<>(flags);
        less.forEach(flag -> rest.remove(flag.id()));
        return with(rest, metrics, calibratedToN, releaseStartStandardUncertaintyNs, offsetStandardUncertaintyNs);
    }

    /** Returns the same contraction with metrics. */
    public Contraction withMetrics(List<MetricValue> newMetrics) {
        return with(flags, newMetrics, calibratedToN, releaseStartStandardUncertaintyNs, offsetStandardUncertaintyNs);
    }

    /** Returns the same contraction with the highest force of the calibration that its load went beyond, in newtons. */
    public Contraction beyond(double rangeN) {
        return with(flags, metrics, rangeN, releaseStartStandardUncertaintyNs, offsetStandardUncertaintyNs);
    }

    /** Returns the same contraction with the uncertainties of its release's beginning and of its offset, in nanoseconds. */
    public Contraction ending(double releaseStartU, double offsetU) {
        return with(flags, metrics, calibratedToN, releaseStartU, offsetU);
    }

    /** Makes the copy that every change of a part comes to. */
    private Contraction with(
            List<String> theFlags, List<MetricValue> theMetrics, double rangeN, double releaseStartU, double offsetU) {
        return new Contraction(
                id,
                revision,
                channel,
                limb,
                onsetNs,
                onsetStandardUncertaintyNs,
                releaseStartNs,
                offsetNs,
                restingLevelN,
                theFlags,
                theMetrics,
                rangeN,
                releaseStartU,
                offsetU);
    }
}
