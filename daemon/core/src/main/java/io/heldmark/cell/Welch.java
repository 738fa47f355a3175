package io.heldmark.cell;

/**
 * Power spectral density of a signal by averaging over overlapping segments.
 *
 * <p><b>Formula.</b> Segments of N samples overlap by half. From each its mean is taken away, it is multiplied by the
 * periodic Hann window w[n] = 0.5 - 0.5 cos(2 pi n / N), and transformed; P[k] = c |X[k]|^2 / (rate sum w^2), c = 2 but 1 at
 * k = 0 and N/2, averaged over the segments. The sum of P times the distance of its frequencies is the signal's variance.
 *
 * <p><b>Source.</b> Welch 1967, IEEE Trans. Audio Electroacoust. 15:70-73; checked against SciPy's {@code signal.welch}.
 */
public final class Welch {
    private final int segment;
    private final double[] window;
    private final double windowPower;
    private final Fourier fourier;
    private final double[] work;

    /**
     * Makes the method for one length of segment.
     *
     * @param segment samples of a segment; a power of two, at least 8.
     */
    public Welch(int segment) {
        if (segment < 8) {
            throw new IllegalArgumentException("segment must be a power of two from 8, is " + segment);
        }
        this.segment = segment;
        fourier = new Fourier(segment);
        window = new double[segment];
        work = new double[segment];
        double power = 0;
        for (int i = 0; i < segment; i++) {
            window[i] = 0.5 - 0.5 * StrictMath.cos(2 * Math.PI * i / segment);
            power += window[i] * window[i];
        }
        windowPower = power;
    }

    /**
     * Returns the density at frequencies k rate / N, k = 0 to N/2.
     *
     * @param x samples, evenly spaced; at least one segment.
     * @param rateHz samples a second.
     * @return density in the unit of x squared, per hertz.
     * @throws IllegalArgumentException if there are too few samples.
     */
    public double[] density(double[] x, double rateHz) {
        if (x.length < segment) {
            throw new IllegalArgumentException(x.length + " samples are fewer than a segment of " + segment);
        }
        double[] sums = new double[segment / 2 + 1];
        int segments = 0;
        for (int from = 0; from + segment <= x.length; from += segment / 2) {
            take(x, from);
            fourier.addPower(work, sums);
            segments++;
        }
        for (int k = 0; k < sums.length; k++) {
            int sides = k == 0 || k == sums.length - 1 ? 1 : 2;
            sums[k] *= sides / (rateHz * windowPower * segments);
        }
        return sums;
    }

    private void take(double[] x, int from) {
        double mean = 0;
        for (int i = 0; i < segment; i++) {
            mean += x[from + i];
        }
        mean /= segment;
        for (int i = 0; i < segment; i++) {
            work[i] = (x[from + i] - mean) * window[i];
        }
    }
}
