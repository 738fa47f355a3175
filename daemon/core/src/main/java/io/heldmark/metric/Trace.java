package io.heldmark.metric;

import io.heldmark.model.ChannelInfo;
import io.heldmark.model.ContractionFlag;
import io.heldmark.model.PlateForces;
import io.heldmark.model.SampleArrays;
import io.heldmark.model.TestConditions;
import io.heldmark.model.Window;
import io.heldmark.model.ZeroReference;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/**
 * A window's samples in plain arrays ({@link Window#samples}), with what many metrics ask of them worked out once: the period,
 * whether samples are missing inside, the highest 100 ms.
 *
 * <p>The registry makes one for all metrics and checks of a window, so that none walks a ring buffer again; a metric that
 * is computed by itself makes its own. 17 bytes per sample, nothing allocated per sample. One thread.
 */
final class Trace implements Window {
    private static final long SLOPE_REACH_NS = 10_000_000L;
    private static final int NEAR = 4;

    private final Window window;
    private final long[] timeNs;
    private final double[] forceN;
    private final boolean[] gapBefore;
    private final int onsetIndex;
    private final int offsetIndex;
    private final double periodNs;
    private final long longestStepNs;
    private final boolean missingInside;
    private final DeviceUncertainty uncertainty;
    private final Reading rest;
    private @Nullable SlidingMean peak;
    private boolean peakSought;
    private @Nullable String rateRefusal;
    private boolean rateJudged;
    private @Nullable String ramp;
    private boolean rampJudged;
    private @Nullable Boolean dipped;
    private double @Nullable [] blocks;

    private Trace(Window w) {
        window = w;
        SampleArrays samples = w.samples();
        timeNs = samples.timeNs;
        forceN = samples.forceN;
        gapBefore = samples.gapBefore;
        onsetIndex = w.onsetIndex();
        offsetIndex = w.offsetIndex();
        periodNs = Samples.meanStepNs(this);
        longestStepNs = Samples.longestStepNs(periodNs);
        missingInside = anyMissing(onsetIndex, offsetIndex + 1);
        uncertainty = DeviceUncertainty.of(this);
        rest = Samples.rest(this);
    }

    /** Makes one of a window; one that is one already is returned as it is. */
    static Trace of(Window w) {
        return w instanceof Trace trace ? trace : new Trace(w);
    }

    /** Returns the mean time between samples that follow one another, in nanoseconds: the real one, not the nominal. */
    double periodNs() {
        return periodNs;
    }

    /** Tells whether samples are missing between onset and offset. */
    boolean missingInside() {
        return missingInside;
    }

    /** Tells whether samples are missing before any of the samples from, inclusive, to, inclusive. */
    boolean missingBetween(int from, int to) {
        boolean inside = from >= onsetIndex && to <= offsetIndex + 1;
        return (missingInside || !inside) && anyMissing(from, to);
    }

    private boolean anyMissing(int from, int to) {
        int last = Math.min(to, timeNs.length - 1);
        for (int i = Math.max(1, from); i <= last; i++) {
            if (missingBefore(i)) {
                return true;
            }
        }
        return false;
    }

    /** Tells whether samples are missing right before a sample, which is not the first. */
    boolean missingBefore(int i) {
        return gapBefore[i] || timeNs[i] - timeNs[i - 1] > longestStepNs;
    }

    /** Returns the forces of all samples; nobody may write to them. */
    double[] forcesN() {
        return forceN;
    }

    /** Returns the device's uncertainty. */
    DeviceUncertainty uncertainty() {
        return uncertainty;
    }

    /** Returns the 100 ms of the peak force; absent where none is whole. */
    @Nullable SlidingMean peak() {
        if (!peakSought) {
            peak = SlidingMean.highest(this, PeakForce.SPAN_NS);
            peakSought = true;
        }
        return peak;
    }

    /** Returns {@link RateGates#shown}, looked at once for all rates. */
    @Nullable String rateRefusal() {
        if (!rateJudged) {
            rateRefusal = RateGates.shown(this);
            rateJudged = true;
        }
        return rateRefusal;
    }

    /** Returns {@link RateGates#ramped}, looked at once for all times and rates. */
    @Nullable String ramped() {
        if (!rampJudged) {
            ramp = RateGates.ramped(this);
            rampJudged = true;
        }
        return ramp;
    }

    /** Returns {@link Dip#before}, looked at once for rates and flags. */
    boolean dipped() {
        Boolean known = dipped;
        if (known == null) {
            known = Dip.before(this);
            dipped = known;
        }
        return known;
    }

    /** Returns {@link Lift#blocks}, worked out once; nobody may write to it. */
    double[] blocks() {
        double[] known = blocks;
        if (known == null) {
            known = Lift.blocks(this);
            blocks = known;
        }
        return known;
    }

    /** Returns the index of the first sample at or after a time; the size where there is none. */
    int after(long atNs) {
        // Even samples have it near here; where they are not, the whole is searched.
        double guess = timeNs.length == 0 ? 0 : (atNs - timeNs[0]) / periodNs;
        int near = (int) Math.max(0, Math.min(timeNs.length, guess));
        int low = Math.max(0, near - NEAR);
        int high = Math.min(timeNs.length, near + NEAR);
        low = low > 0 && timeNs[low - 1] >= atNs ? 0 : low;
        high = high < timeNs.length && timeNs[high] < atNs ? timeNs.length : high;
        while (low < high) {
            int middle = (low + high) >>> 1;
            if (timeNs[middle] < atNs) {
                low = middle + 1;
            } else {
                high = middle;
            }
        }
        return low;
    }

    /** Returns the force at a time, drawn straight between samples; the nearest sample's beyond the ends. */
    double forceAt(long atNs) {
        return Samples.forceAt(this, after(atNs), atNs);
    }

    /** Returns the rate at which the force changes at a time, from 10 ms, at least a period, before to as much after it. */
    double slopeNPerS(long atNs) {
        long reachNs = Math.max(SLOPE_REACH_NS, Math.round(periodNs));
        return (forceAt(atNs + reachNs) - forceAt(atNs - reachNs)) / (2e-9 * reachNs);
    }

    /** Returns the mean rate at which the force rose above the resting level over the first time after the onset. */
    double riseNPerS(long spanNs) {
        return (forceAt(onsetNs() + spanNs) - restingLevelN()) / (spanNs * 1e-9);
    }

    /** Returns the resting level as a reading. */
    Reading rest() {
        return rest;
    }

    /** Returns the length from onset to offset, in seconds. */
    double lengthS() {
        return (offsetNs() - onsetNs()) * 1e-9;
    }

    /** Returns the unit of the channel, with what it is multiplied by or over. */
    String unit(String suffix) {
        return channel().unit() + suffix;
    }

    @Override
    public int size() {
        return timeNs.length;
    }

    @Override
    public long timeNs(int index) {
        return timeNs[index];
    }

    @Override
    public double forceN(int index) {
        return forceN[index];
    }

    @Override
    public boolean gapBefore(int index) {
        return gapBefore[index];
    }

    @Override
    public int onsetIndex() {
        return onsetIndex;
    }

    @Override
    public int offsetIndex() {
        return offsetIndex;
    }

    @Override
    public long onsetNs() {
        return window.onsetNs();
    }

    @Override
    public long releaseStartNs() {
        return window.releaseStartNs();
    }

    @Override
    public long offsetNs() {
        return window.offsetNs();
    }

    @Override
    public double onsetStandardUncertaintyNs() {
        return window.onsetStandardUncertaintyNs();
    }

    @Override
    public double releaseStartStandardUncertaintyNs() {
        return window.releaseStartStandardUncertaintyNs();
    }

    @Override
    public double offsetStandardUncertaintyNs() {
        return window.offsetStandardUncertaintyNs();
    }

    @Override
    public double timeStandardUncertaintyNs() {
        return window.timeStandardUncertaintyNs();
    }

    @Override
    public double restingLevelN() {
        return window.restingLevelN();
    }

    @Override
    public double restingNoiseN() {
        return window.restingNoiseN();
    }

    @Override
    public double restingCorrelationSamples() {
        return window.restingCorrelationSamples();
    }

    @Override
    public double sampleRateHz() {
        return window.sampleRateHz();
    }

    @Override
    public ChannelInfo channel() {
        return window.channel();
    }

    @Override
    public double zeroStandardUncertaintyN() {
        return window.zeroStandardUncertaintyN();
    }

    @Override
    public ZeroReference zero() {
        return window.zero();
    }

    @Override
    public @Nullable PlateForces plate() {
        return window.plate();
    }

    @Override
    public TestConditions conditions() {
        return window.conditions();
    }

    @Override
    public Set<ContractionFlag> flags() {
        return window.flags();
    }
}
