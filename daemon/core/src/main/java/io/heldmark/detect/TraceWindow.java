package io.heldmark.detect;

import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Contraction;
import io.heldmark.model.ContractionFlag;
import io.heldmark.model.TestConditions;
import io.heldmark.model.Window;
import io.heldmark.model.ZeroReference;
import java.util.Collections;
import java.util.Set;

/** A finished contraction's stretch of a {@link TraceBuffer}; valid until the buffer moves on. */
final class TraceWindow implements Window {
    /** Boundaries and resting values of a contraction, as refined when it is finished. */
    record Bounds(
            long from,
            long to,
            long onsetNs,
            double onsetU,
            long releaseStartNs,
            double releaseStartU,
            long offsetNs,
            double offsetU,
            double restingLevelN,
            double restingNoiseN,
            double restingCorrelationSamples) {
        /** Returns a contraction with the uncertainties of its end, the channel's own time in them. */
        Contraction endingOf(Contraction c, double timeU) {
            return c.ending(StrictMath.hypot(releaseStartU, timeU), StrictMath.hypot(offsetU, timeU));
        }
    }

    private static final double OFF_ZERO_N = 5;
    private static final double OFF_ZERO_SHARE = 0.02;

    private final TraceBuffer trace;
    private final ChannelInfo channel;
    private final Bounds bounds;
    private final ZeroReference zero;
    private final double timeU;
    private final double bestN;
    private final TestConditions conditions;
    private final Set<ContractionFlag> flags;

    TraceWindow(
            TraceBuffer trace,
            ChannelInfo channel,
            Bounds bounds,
            ZeroReference zero,
            double timeU,
            double bestN,
            TestConditions conditions,
            Set<ContractionFlag> flags) {
        this.trace = trace;
        this.channel = channel;
        this.bounds = bounds;
        this.zero = zero;
        this.timeU = timeU;
        this.bestN = bestN;
        this.conditions = conditions;
        this.flags = Collections.unmodifiableSet(flags);
    }

    /** Tells whether a resting level is so far from zero that the zero should be taken again. */
    static boolean offZero(double restingLevelN, double bestN) {
        return Math.abs(restingLevelN) > Math.max(OFF_ZERO_N, OFF_ZERO_SHARE * bestN);
    }

    /** Returns the channel's highest force above rest up to this contraction. */
    double bestN() {
        return bestN;
    }

    @Override
    public void copyTo(long[] times, double[] forces, boolean[] gaps) {
        trace.copy(bounds.from, bounds.to, times, forces, gaps);
    }

    @Override
    public int size() {
        return Math.toIntExact(bounds.to - bounds.from);
    }

    @Override
    public long timeNs(int index) {
        return trace.timeNs(bounds.from + index);
    }

    @Override
    public double forceN(int index) {
        return trace.forceN(bounds.from + index);
    }

    @Override
    public boolean gapBefore(int index) {
        return trace.gapBefore(bounds.from + index);
    }

    @Override
    public int onsetIndex() {
        return Math.toIntExact(Math.min(trace.positionAtOrAfter(bounds.onsetNs), bounds.to - 1) - bounds.from);
    }

    @Override
    public int offsetIndex() {
        return Math.toIntExact(trace.positionAtOrAfter(bounds.offsetNs + 1) - 1 - bounds.from);
    }

    @Override
    public long onsetNs() {
        return bounds.onsetNs;
    }

    @Override
    public long releaseStartNs() {
        return bounds.releaseStartNs;
    }

    @Override
    public long offsetNs() {
        return bounds.offsetNs;
    }

    @Override
    public double onsetStandardUncertaintyNs() {
        return bounds.onsetU;
    }

    @Override
    public double releaseStartStandardUncertaintyNs() {
        return bounds.releaseStartU;
    }

    @Override
    public double offsetStandardUncertaintyNs() {
        return bounds.offsetU;
    }

    @Override
    public double timeStandardUncertaintyNs() {
        return timeU;
    }

    @Override
    public double restingLevelN() {
        return bounds.restingLevelN;
    }

    @Override
    public double restingNoiseN() {
        return bounds.restingNoiseN;
    }

    @Override
    public double restingCorrelationSamples() {
        return bounds.restingCorrelationSamples;
    }

    @Override
    public double sampleRateHz() {
        return channel.sampleRateHz();
    }

    @Override
    public ChannelInfo channel() {
        return channel;
    }

    @Override
    public ZeroReference zero() {
        return zero;
    }

    @Override
    public TestConditions conditions() {
        return conditions;
    }

    @Override
    public Set<ContractionFlag> flags() {
        return flags;
    }
}
