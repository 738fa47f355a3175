package io.heldmark.detect;

import io.heldmark.model.Contraction;
import io.heldmark.model.Contraction.Revision;
import io.heldmark.model.ContractionFlag;
import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/**
 * A finished contraction once more, within boundaries that a person has set. A pure function of its arguments.
 *
 * <p><b>What is recomputed.</b> If the onset moved: resting level (mean of the 200 ms before it), resting noise and
 * correlation (up to 500 ms) and the flags about them. A boundary that did not move keeps its time and uncertainty, an
 * onset that did not move keeps its rest. Flags about what the trace holds stay; {@code onset-not-seen} goes, for a person
 * has placed the onset, and {@code gap-inside} follows the boundaries. Metrics, and the flags that follow from them, are
 * left to the caller.
 *
 * <p><b>Uncertainty of a boundary set by hand.</b> Root sum of squares of 2 ms (examiners agree within 1 to 2 ms: Tillin,
 * Pain and Folland 2013, J Electromyogr Kinesiol 23:991-994, from memory), the noise of a 10-ms mean over the slope within
 * 20 ms of the boundary (0.25 s at most), and period / sqrt(12).
 *
 * @param contraction revision {@code MANUAL}, same id, no metrics.
 * @param window its samples, valid for good.
 */
public record HandMoved(Contraction contraction, KeptWindow window) {
    private static final long REST_NS = 200_000_000L;
    private static final long NOISE_NS = 500_000_000L;
    private static final double HAND_NS = 2e6;
    private static final long SLOPE_NS = 20_000_000L;
    private static final double MOST_NS = 0.25e9;
    private static final int LEAST_SAMPLES = 4;

    /**
     * Says why boundaries are refused.
     *
     * @param window kept samples.
     * @param onsetNs station time of the onset.
     * @param releaseStartNs station time at which the release begins.
     * @param offsetNs station time of the offset.
     * @return one plain sentence; null where they are accepted.
     */
    public static @Nullable String refusal(KeptWindow window, long onsetNs, long releaseStartNs, long offsetNs) {
        long firstNs = window.timeNs(0);
        long lastNs = window.timeNs(window.size() - 1);
        if (onsetNs < firstNs || offsetNs > lastNs) {
            return String.format(
                    Locale.ROOT,
                    "Boundaries must lie within the kept samples, from %.3f s before the onset found to %.3f s after it.",
                    (window.onsetNs() - firstNs) * 1e-9,
                    (lastNs - window.onsetNs()) * 1e-9);
        }
        if (onsetNs >= releaseStartNs) {
            return "The onset must come before the start of the release.";
        }
        if (releaseStartNs > offsetNs) {
            return "The start of the release must not come after the offset.";
        }
        if (window.firstAtOrAfter(offsetNs + 1) - window.firstAtOrAfter(onsetNs) < LEAST_SAMPLES) {
            return "Fewer than four samples lie between onset and offset.";
        }
        return null;
    }

    /**
     * Finishes a contraction again.
     *
     * @param before the revision to start from: {@code FINAL}, or {@code MANUAL} with the window that belongs to it.
     * @param window its samples and boundaries.
     * @param onsetNs station time of the onset.
     * @param releaseStartNs station time at which the release begins.
     * @param offsetNs station time of the offset.
     * @throws IllegalArgumentException with the reason of {@link #refusal}.
     */
    public static HandMoved finish(
            Contraction before, KeptWindow window, long onsetNs, long releaseStartNs, long offsetNs) {
        String refusal = refusal(window, onsetNs, releaseStartNs, offsetNs);
        if (refusal != null) {
            throw new IllegalArgumentException(refusal);
        }
        boolean onsetMoved = onsetNs != window.onsetNs();
        RestStatistics rest = onsetMoved ? rest(window, onsetNs) : null;
        KeptWindow.Bounds old = KeptWindow.Bounds.of(window);
        double noiseN = rest == null ? old.restingNoiseN() : rest.noiseN();
        KeptWindow.Bounds moved = new KeptWindow.Bounds(
                onsetNs,
                onsetMoved ? byHandU(window, onsetNs, noiseN) : old.onsetU(),
                releaseStartNs,
                releaseStartNs == old.releaseStartNs() ? old.releaseStartU() : byHandU(window, releaseStartNs, noiseN),
                offsetNs,
                offsetNs == old.offsetNs() ? old.offsetU() : byHandU(window, offsetNs, noiseN),
                rest == null ? old.restingLevelN() : rest.levelN(),
                noiseN,
                rest == null ? old.restingCorrelationSamples() : rest.correlationSamples());
        KeptWindow within = window.within(moved);
        KeptWindow result = within.flagged(flags(within, onsetMoved));
        return new HandMoved(contraction(before, result), result);
    }

    private static Contraction contraction(Contraction before, KeptWindow window) {
        double timeU = window.timeStandardUncertaintyNs();
        Contraction moved = new Contraction(
                before.id(),
                Revision.MANUAL,
                before.channel(),
                before.limb(),
                window.onsetNs(),
                StrictMath.hypot(window.onsetStandardUncertaintyNs(), timeU),
                window.releaseStartNs(),
                window.offsetNs(),
                window.restingLevelN(),
                window.flags().stream().map(ContractionFlag::id).toList(),
                List.of());
        return moved.ending(
                StrictMath.hypot(window.releaseStartStandardUncertaintyNs(), timeU),
                StrictMath.hypot(window.offsetStandardUncertaintyNs(), timeU));
    }

    /** Rest right before the onset; null where fewer than four samples tell of it, so that what was known stands. */
    private static @Nullable RestStatistics rest(KeptWindow window, long onsetNs) {
        Segment trace = new Segment(window);
        int to = window.firstAtOrAfter(onsetNs);
        int from = trace.afterLastGap(window.firstAtOrAfter(onsetNs - REST_NS), to);
        int noiseFrom = trace.afterLastGap(window.firstAtOrAfter(onsetNs - NOISE_NS), to);
        if (to - from < LEAST_SAMPLES) {
            return null;
        }
        RestStatistics noise = RestStatistics.of(trace, noiseFrom, to);
        return new RestStatistics(trace.meanN(from, to), noise.noiseN(), noise.correlationSamples(), to - from);
    }

    private static double byHandU(KeptWindow window, long atNs, double noiseN) {
        Segment trace = new Segment(window);
        int at = Math.min(window.firstAtOrAfter(atNs), window.size() - 1);
        int half = (int) Math.max(0, Math.round(0.005 * window.sampleRateHz()));
        int from = window.firstAtOrAfter(atNs - SLOPE_NS);
        int to = Math.min(window.firstAtOrAfter(atNs + SLOPE_NS), window.size() - 1);
        double steepest = 0;
        for (int i = from; i <= to; i++) {
            double runNs = window.timeNs(Math.max(i, at)) - window.timeNs(Math.min(i, at));
            if (runNs >= SLOPE_NS / 2.0) {
                steepest = Math.max(steepest, Math.abs(trace.smoothN(i, half) - trace.smoothN(at, half)) / runNs);
            }
        }
        double meanNoiseN = noiseN / Math.sqrt(2.0 * half + 1);
        double byNoise = steepest > 0 ? Math.min(MOST_NS, meanNoiseN / steepest) : MOST_NS;
        double periodNs = 1e9 / window.sampleRateHz();
        return Math.sqrt(HAND_NS * HAND_NS + byNoise * byNoise + periodNs * periodNs / 12);
    }

    private static Set<ContractionFlag> flags(KeptWindow window, boolean onsetMoved) {
        Set<ContractionFlag> flags = EnumSet.noneOf(ContractionFlag.class);
        flags.addAll(window.flags());
        set(flags, ContractionFlag.GAP_INSIDE, hasGap(window));
        if (onsetMoved) {
            Segment trace = new Segment(window);
            int to = window.onsetIndex();
            int from = trace.afterLastGap(window.firstAtOrAfter(window.onsetNs() - REST_NS), to);
            boolean offZero = TraceWindow.offZero(window.restingLevelN(), window.bestN());
            set(flags, ContractionFlag.ONSET_NOT_SEEN, false);
            set(flags, ContractionFlag.ONSET_UNCERTAIN, Finisher.uncertain(window.onsetStandardUncertaintyNs()));
            set(
                    flags,
                    ContractionFlag.BASELINE_UNSTABLE,
                    RestStatistics.of(trace, from, to).unstable(trace, from, to));
            set(flags, ContractionFlag.RESTING_LEVEL_OFF_ZERO, offZero);
        }
        return flags;
    }

    private static void set(Set<ContractionFlag> flags, ContractionFlag flag, boolean holds) {
        if (holds) {
            flags.add(flag);
        } else {
            flags.remove(flag);
        }
    }

    private static boolean hasGap(KeptWindow window) {
        for (int i = window.onsetIndex() + 1; i <= window.offsetIndex(); i++) {
            if (window.gapBefore(i)) {
                return true;
            }
        }
        return false;
    }
}
