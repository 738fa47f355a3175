package io.heldmark.filter;

import java.util.Arrays;
import java.util.Objects;

/**
 * A filter without delay: the same sections run forward, then backward, over one finished stretch.
 *
 * <p><b>Method.</b> The stretch {@code x[0 .. n-1]} is continued at both ends by {@code padding} samples, turned about its
 * end points: {@code 2 x[0] - x[k]} before the first, {@code 2 x[n-1] - x[n-1-k]} after the last ("odd"). The filter, primed
 * with the first sample of that, runs forward; primed with the last output, it runs backward; the continuations are cut
 * off. The gain is squared, the phase is zero at every frequency.
 *
 * <p><b>Padding.</b> By default {@code 3 (2 S + 1 - m)} samples for S sections of which m are of first order: 9 for order 2,
 * 15 for order 4. A narrow filter rings for longer than that; whoever filters a part of a window takes some more of the
 * window along and throws the ends away.
 *
 * <p><b>Cutoff.</b> Two passes of a Butterworth filter are 3 dB down at a lower frequency than one. {@link #lowPass} designs
 * the single pass so that both together are 3 dB down at the cutoff asked for: with {@code C = (sqrt(2) - 1)^(1 / (2 N))}
 * (0.8022 for order 2) on the pre-warped axis, {@code tan(pi f1 / fs) = tan(pi f / fs) / C}. The usual {@code f1 = f / C}
 * is the same for a cutoff far below the sample rate.
 *
 * <p><b>Not for onsets.</b> Its response begins before its cause. A narrow zero-phase filter moves the onset of a quick rise
 * forward by tens of milliseconds and flattens its slope: onset and rates of force development never use it.
 *
 * <p><b>Units and shape.</b> Output and input have the same unit, one channel, evenly sampled and without gaps. Per call one
 * array of n + 2 padding doubles is allocated: it is for windows, never for whole recordings.
 *
 * <p><b>Errors.</b> A stretch of no more than {@code padding} samples and numbers that {@link BiquadCascade} refuses give
 * {@link IllegalArgumentException}; nothing is changed then.
 *
 * <p><b>Threading.</b> One thread.
 *
 * <p><b>Source.</b> Gustafsson 1996, IEEE Trans. Signal Processing 44:988-992 (on the choice of initial states; from
 * memory); correction of the cutoff: Winter, Biomechanics and Motor Control of Human Movement; Robertson and Dowling 2003,
 * J Electromyogr Kinesiol 13:569-573 (both from memory). Checked against {@code scipy.signal.sosfiltfilt}.
 */
public final class ZeroPhase {
    private final BiquadCascade filter;
    private final int defaultPadding;

    /**
     * Makes a zero-phase filter of given sections, cutoff as they are.
     *
     * @param sections as for {@link BiquadCascade}.
     */
    public ZeroPhase(double[][] sections) {
        filter = new BiquadCascade(sections);
        defaultPadding = defaultPadding(sections);
    }

    /**
     * Designs a low-pass filter that is 3 dB down at the cutoff after both passes.
     *
     * @param order order of one pass: 2, 4 or 8; the two together fall twice as steeply.
     * @param cutoffHz cutoff of both passes.
     * @param sampleRateHz sample rate.
     * @throws IllegalArgumentException as {@link Butterworth#lowPass}.
     */
    public static ZeroPhase lowPass(int order, double cutoffHz, double sampleRateHz) {
        double single = singlePassCutoffHz(order, cutoffHz, sampleRateHz);
        return new ZeroPhase(Butterworth.lowPass(order, single, sampleRateHz).sections());
    }

    /**
     * Returns the cutoff of one pass that makes two passes 3 dB down at {@code cutoffHz}; below half the sample rate like
     * the cutoff itself.
     */
    public static double singlePassCutoffHz(int order, double cutoffHz, double sampleRateHz) {
        FilterArguments.checkBelowNyquist("cutoffHz", cutoffHz, sampleRateHz);
        double c = StrictMath.pow(Math.sqrt(2) - 1, 1 / (2.0 * order));
        double t = StrictMath.tan(Math.PI * cutoffHz / sampleRateHz) / c;
        return sampleRateHz / Math.PI * StrictMath.atan(t);
    }

    /** Returns the number of samples by which {@link #process(double[], int, int)} continues a stretch at each end. */
    public int defaultPadding() {
        return defaultPadding;
    }

    /** Filters a stretch in place with the default padding. */
    public void process(double[] x, int off, int n) {
        process(x, off, n, defaultPadding);
    }

    /**
     * Filters a stretch in place.
     *
     * @param x samples, replaced by their filtered values.
     * @param off index of the first sample.
     * @param n number of samples, more than {@code padding}.
     * @param padding samples by which each end is continued, 0 or more.
     */
    public void process(double[] x, int off, int n, int padding) {
        double[] filtered = filtered(x, off, n, padding, 0);
        System.arraycopy(filtered, padding, x, off, n);
    }

    /**
     * Filters a stretch with the default padding and returns what is wanted of it; the samples stay as they are.
     *
     * @param x samples.
     * @param off index of the first sample of the stretch.
     * @param n number of its samples, more than the padding.
     * @param skipped samples of the stretch before those that are wanted.
     * @param wanted samples that are wanted; what comes before them is spared the way back.
     */
    public double[] part(double[] x, int off, int n, int skipped, int wanted) {
        Objects.checkFromIndexSize(skipped, wanted, n);
        int padding = defaultPadding;
        double[] filtered = filtered(x, off, n, padding, skipped);
        return Arrays.copyOfRange(filtered, padding + skipped, padding + skipped + wanted);
    }

    /** Returns the filtered stretch, continued by the padding; whole from {@code padding + skipped} on. */
    private double[] filtered(double[] x, int off, int n, int padding, int skipped) {
        Objects.checkFromIndexSize(off, n, x.length);
        if (padding < 0 || n <= padding) {
            throw new IllegalArgumentException(
                    "a stretch must have more samples than the padding: n=" + n + ", padding=" + padding);
        }
        double[] extended = extend(x, off, n, padding);
        int last = extended.length - 1;
        filter.prime(extended[0]);
        filter.run(extended, 0, extended.length, 1);
        filter.prime(extended[last]);
        filter.run(extended, last, extended.length - padding - skipped, -1);
        return extended;
    }

    private static double[] extend(double[] x, int off, int n, int padding) {
        double[] extended = new double[n + 2 * padding];
        System.arraycopy(x, off, extended, padding, n);
        double first = x[off];
        double last = x[off + n - 1];
        for (int k = 1; k <= padding; k++) {
            extended[padding - k] = 2 * first - x[off + k];
            extended[padding + n - 1 + k] = 2 * last - x[off + n - 1 - k];
        }
        return extended;
    }

    private static int defaultPadding(double[][] sections) {
        int withoutB2 = 0;
        int withoutA2 = 0;
        for (double[] row : sections) {
            withoutB2 += row[2] == 0 ? 1 : 0;
            withoutA2 += row[5] == 0 ? 1 : 0;
        }
        return 3 * (2 * sections.length + 1 - Math.min(withoutB2, withoutA2));
    }
}
