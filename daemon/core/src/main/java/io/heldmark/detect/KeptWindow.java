package io.heldmark.detect;

import io.heldmark.model.ChannelInfo;
import io.heldmark.model.ContractionFlag;
import io.heldmark.model.PlateForces;
import io.heldmark.model.SampleArrays;
import io.heldmark.model.TestConditions;
import io.heldmark.model.Window;
import io.heldmark.model.ZeroReference;
import java.util.Collections;
import java.util.EnumSet;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/**
 * A copy of a finished contraction's window that outlives the call which handed the window over, so that its boundaries
 * can be moved by hand later ({@link HandMoved}). Immutable; 17 bytes per sample, of a plate 8 more for each cell.
 */
public final class KeptWindow implements Window {
    /** Boundaries and resting values, in the terms of {@link Window}. */
    record Bounds(
            long onsetNs,
            double onsetU,
            long releaseStartNs,
            double releaseStartU,
            long offsetNs,
            double offsetU,
            double restingLevelN,
            double restingNoiseN,
            double restingCorrelationSamples) {
        static Bounds of(Window w) {
            return new Bounds(
                    w.onsetNs(),
                    w.onsetStandardUncertaintyNs(),
                    w.releaseStartNs(),
                    w.releaseStartStandardUncertaintyNs(),
                    w.offsetNs(),
                    w.offsetStandardUncertaintyNs(),
                    w.restingLevelN(),
                    w.restingNoiseN(),
                    w.restingCorrelationSamples());
        }
    }

    private final long[] timeNs;
    private final double[] forceN;
    private final boolean[] gapBefore;
    private final Bounds bounds;
    private final ChannelInfo channel;
    private final double timeU;
    private final ZeroReference zero;
    private final double bestN;
    private final TestConditions conditions;
    private final @Nullable PlateForces plate;
    private final Set<ContractionFlag> flags;

    private KeptWindow(KeptWindow samples, Bounds bounds, Set<ContractionFlag> flags, @Nullable PlateForces plate) {
        timeNs = samples.timeNs;
        forceN = samples.forceN;
        gapBefore = samples.gapBefore;
        channel = samples.channel;
        timeU = samples.timeU;
        zero = samples.zero;
        bestN = samples.bestN;
        conditions = samples.conditions;
        this.plate = plate;
        this.bounds = bounds;
        this.flags = flags;
    }

    private KeptWindow(Window w) {
        int n = w.size();
        timeNs = new long[n];
        forceN = new double[n];
        gapBefore = new boolean[n];
        w.copyTo(timeNs, forceN, gapBefore);
        bounds = Bounds.of(w);
        channel = w.channel();
        timeU = w.timeStandardUncertaintyNs();
        zero = w.zero();
        bestN = w instanceof TraceWindow trace ? trace.bestN() : 0;
        conditions = w.conditions();
        plate = w.plate();
        flags = frozen(w.flags());
    }

    /** Copies a window; a kept one is returned as it is. */
    public static KeptWindow of(Window window) {
        return window instanceof KeptWindow kept ? kept : new KeptWindow(window);
    }

    /** Returns the same samples within other boundaries. */
    KeptWindow within(Bounds others) {
        return new KeptWindow(this, others, flags, plate);
    }

    /** Returns the same window with other flags. */
    KeptWindow flagged(Set<ContractionFlag> others) {
        return new KeptWindow(this, bounds, frozen(others), plate);
    }

    /** Returns the same window with what the cells under its plate carried. */
    public KeptWindow onPlate(PlateForces carried) {
        return new KeptWindow(this, bounds, flags, carried);
    }

    /** Returns how many samples of one channel take as much room as this window: two forces of cells under a plate count as one. */
    public int samplesHeld() {
        return timeNs.length
                + (plate == null ? 0 : timeNs.length * plate.cells().size() / 2);
    }

    private static Set<ContractionFlag> frozen(Set<ContractionFlag> flags) {
        EnumSet<ContractionFlag> copy = EnumSet.noneOf(ContractionFlag.class);
        copy.addAll(flags);
        return Collections.unmodifiableSet(copy);
    }

    /** Returns the channel's highest force above rest up to this contraction; 0 where unknown. */
    double bestN() {
        return bestN;
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
    public void copyTo(long[] times, double[] forces, boolean[] gaps) {
        System.arraycopy(timeNs, 0, times, 0, timeNs.length);
        System.arraycopy(forceN, 0, forces, 0, forceN.length);
        System.arraycopy(gapBefore, 0, gaps, 0, gapBefore.length);
    }

    @Override
    public SampleArrays samples() {
        return new SampleArrays(timeNs, forceN, gapBefore);
    }

    @Override
    public int onsetIndex() {
        return Math.min(firstAtOrAfter(bounds.onsetNs), timeNs.length - 1);
    }

    @Override
    public int offsetIndex() {
        return firstAtOrAfter(bounds.offsetNs + 1) - 1;
    }

    /** Returns the first index at or after a time; the size where there is none. */
    int firstAtOrAfter(long atNs) {
        int low = 0;
        int high = timeNs.length;
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
    public @Nullable PlateForces plate() {
        return plate;
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
