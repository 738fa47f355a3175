package io.heldmark.metric;

import io.heldmark.model.CellCalibration;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.ContractionFlag;
import io.heldmark.model.Limb;
import io.heldmark.model.PlateForces;
import io.heldmark.model.TestConditions;
import io.heldmark.model.Window;
import io.heldmark.model.ZeroReference;
import java.util.Set;
import java.util.function.DoubleUnaryOperator;
import org.jspecify.annotations.Nullable;

/** A window made by hand: a function of time sampled at a steady rate, boundaries given. */
final class InventedWindow implements Window {
    private final double rateHz;
    private final long[] timeNs;
    private final double[] forceN;
    private final boolean[] gap;
    private final long onsetNs;
    private final long offsetNs;

    double restingLevelN;
    double restingNoiseN;
    double correlation = 1;
    double zeroU;
    double zeroLevelN;
    double sinceZeroS;
    double ratedLoadN;
    CellCalibration cell = CellCalibration.UNKNOWN;
    double onsetU;
    double offsetU;
    double relativeU = 0.002;
    double releaseS = Double.NaN;
    double timeU;
    double resolution;
    double bandwidthHz;
    double nominalHz;
    TestConditions conditions = TestConditions.UNKNOWN;
    Set<ContractionFlag> flags = Set.of();

    @Nullable PlateForces plate;

    private InventedWindow(double rateHz, long[] timeNs, double[] forceN, boolean[] gap, long onsetNs, long offsetNs) {
        this.rateHz = rateHz;
        nominalHz = rateHz;
        this.timeNs = timeNs;
        this.forceN = forceN;
        this.gap = gap;
        this.onsetNs = onsetNs;
        this.offsetNs = offsetNs;
    }

    /** Samples force(t), t in seconds since the onset, from 0.7 s before the onset to 0.2 s after the offset. */
    static InventedWindow of(double rateHz, double lengthS, DoubleUnaryOperator force) {
        return at(1_000_000_000L, rateHz, lengthS, force);
    }

    static InventedWindow at(long onsetNs, double rateHz, double lengthS, DoubleUnaryOperator force) {
        int before = (int) Math.round(0.7 * rateHz);
        int n = before + (int) Math.round((lengthS + 0.2) * rateHz) + 1;
        long[] timeNs = new long[n];
        double[] forceN = new double[n];
        for (int i = 0; i < n; i++) {
            double t = (i - before) / rateHz;
            timeNs[i] = onsetNs + Math.round(t * 1e9);
            forceN[i] = force.applyAsDouble(t);
        }
        return new InventedWindow(rateHz, timeNs, forceN, new boolean[n], onsetNs, onsetNs + Math.round(lengthS * 1e9));
    }

    /** The same window with the samples between two times since the onset missing. */
    InventedWindow without(double fromS, double toS) {
        int n = 0;
        long[] t = new long[timeNs.length];
        double[] f = new double[timeNs.length];
        boolean[] g = new boolean[timeNs.length];
        boolean missing = false;
        for (int i = 0; i < timeNs.length; i++) {
            double s = (timeNs[i] - onsetNs) * 1e-9;
            if (s >= fromS && s < toS) {
                missing = true;
                continue;
            }
            t[n] = timeNs[i];
            f[n] = forceN[i];
            g[n++] = missing;
            missing = false;
        }
        InventedWindow w = new InventedWindow(
                rateHz,
                java.util.Arrays.copyOf(t, n),
                java.util.Arrays.copyOf(f, n),
                java.util.Arrays.copyOf(g, n),
                onsetNs,
                offsetNs);
        w.relativeU = relativeU;
        return w;
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
        return gap[index];
    }

    @Override
    public int onsetIndex() {
        int i = 0;
        while (i < timeNs.length - 1 && timeNs[i] < onsetNs) {
            i++;
        }
        return i;
    }

    @Override
    public int offsetIndex() {
        int i = timeNs.length - 1;
        while (i > 0 && timeNs[i] > offsetNs) {
            i--;
        }
        return i;
    }

    @Override
    public long onsetNs() {
        return onsetNs;
    }

    @Override
    public long releaseStartNs() {
        return Double.isNaN(releaseS) ? offsetNs : onsetNs + Math.round(releaseS * 1e9);
    }

    @Override
    public long offsetNs() {
        return offsetNs;
    }

    @Override
    public double onsetStandardUncertaintyNs() {
        return onsetU;
    }

    @Override
    public double offsetStandardUncertaintyNs() {
        return offsetU;
    }

    @Override
    public double timeStandardUncertaintyNs() {
        return timeU;
    }

    @Override
    public double restingLevelN() {
        return restingLevelN;
    }

    @Override
    public double restingNoiseN() {
        return restingNoiseN;
    }

    @Override
    public double restingCorrelationSamples() {
        return correlation;
    }

    @Override
    public double sampleRateHz() {
        return nominalHz;
    }

    @Override
    public ChannelInfo channel() {
        return new ChannelInfo(
                0,
                "test",
                "",
                0,
                "test",
                Limb.LEFT,
                nominalHz,
                bandwidthHz,
                ratedLoadN,
                "N",
                "factory",
                relativeU,
                resolution,
                cell);
    }

    @Override
    public ZeroReference zero() {
        return ZeroReference.taken(zeroLevelN, zeroU, onsetNs - Math.round(sinceZeroS * 1e9));
    }

    @Override
    public TestConditions conditions() {
        return conditions;
    }

    @Override
    public Set<ContractionFlag> flags() {
        return flags;
    }

    @Override
    public @Nullable PlateForces plate() {
        return plate;
    }
}
