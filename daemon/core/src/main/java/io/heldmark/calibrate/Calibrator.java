package io.heldmark.calibrate;

import io.heldmark.model.Bend;
import org.jspecify.annotations.Nullable;

/**
 * Turns the counts of one channel into newtons relative to the session zero.
 *
 * <p><b>Formula.</b> levelN = (counts - zeroCounts) * newtonPerCount; forceN = levelN - sessionZeroN. The slope may be
 * negative (a cell wired the other way round). A {@link Bend} makes a parabola's level of that straight line's.
 *
 * <p><b>Units.</b> Without a calibration the numbers stay counts: slope 1, zero 0, unit {@code count}.
 *
 * <p><b>Cost.</b> Nothing is allocated after construction.
 *
 * <p><b>Threading.</b> One thread.
 */
public final class Calibrator {
    private static final double SHIFT = 0x1p52 + 0x1p31;
    private static final long SHIFTED = Double.doubleToRawLongBits(SHIFT);

    private final boolean calibrated;
    private final double zeroCounts;
    private final double newtonPerCount;
    private final double relativeU;
    private final @Nullable Bend bend;
    private double sessionZeroN;

    /**
     * Makes a calibrator from a straight line.
     *
     * @param zeroCounts reading of the unloaded cell, in counts; finite.
     * @param newtonPerCount slope; finite, not zero.
     * @param relativeU relative standard uncertainty of the slope, 0 to 1; NaN where unknown.
     * @throws IllegalArgumentException naming the value that is out of range.
     */
    public Calibrator(double zeroCounts, double newtonPerCount, double relativeU) {
        this(zeroCounts, newtonPerCount, relativeU, null);
    }

    /**
     * Makes a calibrator from a parabola.
     *
     * @param zeroCounts reading of the unloaded cell, in counts; finite.
     * @param newtonPerCount slope at zero; finite, not zero.
     * @param relativeU relative standard uncertainty of the slope, 0 to 1; NaN where unknown.
     * @param bend how the curve is bent; absent for a straight line.
     * @throws IllegalArgumentException naming the value that is out of range.
     */
    public Calibrator(double zeroCounts, double newtonPerCount, double relativeU, @Nullable Bend bend) {
        this(true, zeroCounts, newtonPerCount, relativeU, bend);
        require(Math.abs(zeroCounts) <= 1e12, "zeroCounts must be finite", zeroCounts);
        double size = Math.abs(newtonPerCount);
        require(size > 0 && size <= 1e12, "newtonPerCount must be finite and not zero", newtonPerCount);
        require(Double.isNaN(relativeU) || (relativeU >= 0 && relativeU <= 1), "relativeU is 0 to 1", relativeU);
    }

    private Calibrator(
            boolean calibrated, double zeroCounts, double newtonPerCount, double relativeU, @Nullable Bend bend) {
        this.calibrated = calibrated;
        this.zeroCounts = zeroCounts;
        this.newtonPerCount = newtonPerCount;
        this.relativeU = relativeU;
        this.bend = bend;
    }

    /** Makes a calibrator for a channel without calibration: counts stay counts. */
    public static Calibrator uncalibrated() {
        return new Calibrator(false, 0, 1, Double.NaN, null);
    }

    /** Tells whether the numbers are newtons. */
    public boolean calibrated() {
        return calibrated;
    }

    /** Returns {@code N}, or {@code count} without a calibration. */
    public String unit() {
        return calibrated ? "N" : "count";
    }

    /** Returns the relative standard uncertainty of the slope; NaN where unknown. */
    public double relativeU() {
        return relativeU;
    }

    /** Returns the size of one count in the channel's unit; of a bent curve that at zero. */
    public double resolution() {
        return Math.abs(newtonPerCount);
    }

    /** Returns the session zero, in the channel's unit. */
    public double sessionZeroN() {
        return sessionZeroN;
    }

    /** Sets the session zero that is subtracted from now on. */
    public void setSessionZeroN(double sessionZeroN) {
        require(Math.abs(sessionZeroN) <= Double.MAX_VALUE, "sessionZeroN must be finite", sessionZeroN);
        this.sessionZeroN = sessionZeroN;
    }

    /** Returns the force of one sample relative to the session zero. */
    public double forceN(int counts) {
        return bend == null
                ? (counts - zeroCounts) * newtonPerCount - sessionZeroN
                : bend.forceN((counts - zeroCounts) * newtonPerCount) - sessionZeroN;
    }

    /**
     * Converts the samples of one channel out of an interleaved block.
     *
     * @param counts interleaved counts.
     * @param from index of the first sample of the channel.
     * @param stride channels in the block.
     * @param count samples to convert.
     * @param forceN takes the forces from index 0.
     */
    public void convert(int[] counts, int from, int stride, int count, double[] forceN) {
        if (bend != null) {
            for (int i = 0; i < count; i++) {
                forceN[i] = forceN(counts[from + i * stride]);
            }
            return;
        }
        double zero = zeroCounts; // Names of its own, or a simple compiler reads the fields again for every sample.
        double slope = newtonPerCount;
        double sessionZero = sessionZeroN;
        for (int i = 0, at = from; i < count; i++, at += stride) {
            forceN[i] = (asDouble(counts[at]) - zero) * slope - sessionZero;
        }
    }

    /**
     * Returns the count itself: 2^52 + 2^31 + count has it in its low bits, and the difference is exact. The processor's own
     * conversion waits for what was in the register before, that is for the sample before.
     */
    private static double asDouble(int count) {
        return Double.longBitsToDouble(SHIFTED ^ (count & 0xFFFF_FFFFL)) - SHIFT;
    }

    private static void require(boolean holds, String rule, double value) {
        if (!holds) {
            throw new IllegalArgumentException(rule + ": " + value);
        }
    }
}
