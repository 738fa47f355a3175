package io.heldmark.detect;

import io.heldmark.model.ChannelInfo;
import io.heldmark.model.ContractionFlag;
import java.util.EnumSet;
import java.util.Set;

/**
 * Turns an open window into a finished one: boundaries, rest, flags, and whether it was a contraction at all. One use.
 *
 * <p>A window is handling if its peak above rest is under {@code minimumPeakN}, or if it was above half the peak for less
 * than {@code minimumWidthS} in all. A window that was cut is never handling: its length says nothing.
 */
final class Finisher {
    /** How a window came to its end. */
    enum End {
        /** Back at rest, or settled on a low level. */
        SEEN,
        /** The next effort began first: nothing after the low point belongs to it. */
        NEXT_EFFORT,
        /** Cut by missing samples or by its length. */
        CUT
    }

    private static final double BEFORE_S = 1.5;
    private static final double HALF_SPAN_S = 0.01;
    private static final double CERTAIN_NS = 5e6;
    private static final double STEEP_S = 0.1;
    private static final double SLOW_PER_S = 1.4;

    private final DetectorConfig config;
    private final ChannelInfo channel;
    private final OpenWindow open;
    private final End how;
    private final Segment trace;
    private final int half;
    private final int end;
    private final Set<ContractionFlag> flags;
    private final TraceWindow.Bounds bounds;
    private final double peakN;
    private final boolean handling;
    private final boolean returned;

    /**
     * Finishes a window.
     *
     * @param config thresholds.
     * @param channel the channel.
     * @param raw its samples.
     * @param open the window.
     * @param notBeforeNs end of the contraction before it.
     * @param endNs time at which the end was seen.
     * @param how how it ended.
     * @param room memory that nothing else uses meanwhile.
     */
    Finisher(
            DetectorConfig config,
            ChannelInfo channel,
            TraceBuffer raw,
            OpenWindow open,
            long notBeforeNs,
            long endNs,
            End how,
            Segment.Room room) {
        this.config = config;
        this.channel = channel;
        this.open = open;
        this.how = how;
        half = (int) Math.max(1, Math.round(HALF_SPAN_S * channel.sampleRateHz()));
        long beginNs = Math.max(notBeforeNs, open.onsetNs - (long) (BEFORE_S * 1e9));
        long from = Math.min(raw.positionAtOrAfter(beginNs), raw.end() - 1);
        trace = new Segment(raw, from, raw.end(), room);
        trace.smooth(half);
        flags = open.flags.isEmpty() ? EnumSet.noneOf(ContractionFlag.class) : EnumSet.copyOf(open.flags);
        end = trace.indexAt(trace.toS(endNs));
        int peak = peakIndex(trace.indexAt(trace.toS(open.onsetNs)));
        OnsetSearch onset = searchOnset(peak);
        RestStatistics rest = onset.rest(0);
        double restN = flags.contains(ContractionFlag.COUNTERMOVEMENT) ? open.restN() : rest.levelN();
        peakN = trace.smoothN(peak, half) - restN;
        int onsetIndex = Math.min(trace.indexAt(onset.onsetS()), peak);
        ReleaseSearch release = searchRelease(restN, onsetIndex);
        returned = release.returned() && Double.isNaN(open.settledN());
        bounds = bounds(from, raw.end(), onset, release, rest, restN);
        handling = how != End.CUT && isHandling(onsetIndex, restN);
        judgeRise(onset, onsetIndex, peak);
    }

    /** Returns the boundaries. */
    TraceWindow.Bounds bounds() {
        return bounds;
    }

    /** Returns the flags, which the detector may add to. */
    Set<ContractionFlag> flags() {
        return flags;
    }

    /** Returns the smoothed peak above rest. */
    double peakN() {
        return peakN;
    }

    /** Tells whether it was handling; the flags say why. */
    boolean handling() {
        return handling;
    }

    /** Tells whether the force was seen to come back to 5 % of what it was at the release. */
    boolean returned() {
        return returned;
    }

    /** Tells whether an onset is too uncertain for rates of force development: 10 ms shift that over 50 ms by a tenth. */
    static boolean uncertain(double onsetStandardUncertaintyNs) {
        return !(onsetStandardUncertaintyNs <= CERTAIN_NS);
    }

    private void judgeRise(OnsetSearch onset, int onsetIndex, int peak) {
        if (uncertain(onset.standardUncertaintyS() * 1e9)) {
            flags.add(ContractionFlag.ONSET_UNCERTAIN);
        }
        if (!flags.contains(ContractionFlag.ONSET_NOT_SEEN) && isSlow(onsetIndex, peak)) {
            flags.add(ContractionFlag.SLOW_RISE);
        }
    }

    /** Tells whether no 0.1 s from onset to peak is as steep as an explosive rise; the first that is decides. */
    private boolean isSlow(int onsetIndex, int peak) {
        double steepNPerS = SLOW_PER_S * peakN;
        int before = trace.indexAt(trace.timeS(onsetIndex) - STEEP_S);
        for (int i = onsetIndex; i <= peak; i++) {
            while (trace.timeS(before) < trace.timeS(i) - STEEP_S) {
                before++; // Moves on with i: no search for each sample.
            }
            double run = trace.timeS(i) - trace.timeS(before);
            double slope = (trace.smoothN(i, half) - trace.smoothN(before, half)) / Math.max(STEEP_S, run);
            if (!(slope < steepNPerS)) {
                return false;
            }
        }
        return steepNPerS > 0;
    }

    private OnsetSearch searchOnset(int peak) {
        OnsetSearch search =
                new OnsetSearch(trace, trace.toS(open.onsetNs), open.onsetUNs * 1e-9, open.restN(), open.noiseN, flags);
        if (!flags.contains(ContractionFlag.ONSET_NOT_SEEN)) {
            search.refine(half, peak);
        }
        return search;
    }

    private ReleaseSearch searchRelease(double restN, int onsetIndex) {
        double backN = Double.isNaN(open.settledN()) ? restN : open.restN() + open.settledN();
        int limit = how == End.NEXT_EFFORT ? end : trace.size() - 1;
        return new ReleaseSearch(trace, half, backN, open.noiseN, peakN, onsetIndex, end, limit);
    }

    private TraceWindow.Bounds bounds(
            long from, long to, OnsetSearch onset, ReleaseSearch release, RestStatistics rest, double restN) {
        boolean cut = how == End.CUT;
        double cutU = 0.5 / channel.sampleRateHz();
        return new TraceWindow.Bounds(
                from,
                to,
                trace.toNs(onset.onsetS()),
                onset.standardUncertaintyS() * 1e9,
                trace.toNs(cut ? trace.timeS(end) : release.releaseS()),
                (cut ? cutU : release.releaseStandardUncertaintyS()) * 1e9,
                trace.toNs(cut ? trace.timeS(end) : release.offsetS()),
                (cut ? cutU : release.offsetStandardUncertaintyS()) * 1e9,
                restN,
                rest.noiseN(),
                rest.correlationSamples());
    }

    private int peakIndex(int from) {
        int best = from;
        double bestN = trace.smoothN(from, half);
        for (int i = from; i <= end; i++) {
            double smoothN = trace.smoothN(i, half);
            if (smoothN > bestN) {
                best = i;
                bestN = smoothN;
            }
        }
        return best;
    }

    private boolean isHandling(int onset, double restN) {
        if (peakN < config.minimumPeakN()) {
            flags.add(ContractionFlag.TOO_WEAK);
            return true;
        }
        double aboveS = 0;
        for (int i = onset + 1; i <= end && aboveS < config.minimumWidthS(); i++) {
            if (trace.smoothN(i, half) - restN >= peakN / 2) {
                aboveS += trace.timeS(i) - trace.timeS(i - 1);
            }
        }
        if (aboveS < config.minimumWidthS()) {
            flags.add(ContractionFlag.TOO_BRIEF);
            return true;
        }
        return false;
    }
}
