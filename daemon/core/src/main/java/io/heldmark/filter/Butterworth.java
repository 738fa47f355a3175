package io.heldmark.filter;

/**
 * Design of Butterworth low-pass filters as second-order sections.
 *
 * <p><b>Method.</b> The analogue prototype of order {@code N} has the pole pairs {@code s^2 + q s + 1} with
 * {@code q = 2 sin(pi (2k + 1) / (2N))}, {@code k = 0 .. N/2 - 1}. The bilinear transform, pre-warped so that the gain at
 * the cutoff is exactly {@code 1/sqrt(2)}, with {@code t = tan(pi cutoffHz / sampleRateHz)} makes of each pair
 *
 * <pre>
 *   (1 + z^-1)^2 t^2 / ((1 + q t + t^2) + 2 (t^2 - 1) z^-1 + (1 - q t + t^2) z^-2)
 * </pre>
 *
 * <p><b>Shape.</b> Sections stand in SciPy's order: the most damped pair first, carrying the whole gain, the least damped
 * last; each section after the first has the numerator {@code 1, 2, 1}.
 *
 * <p><b>Caveat.</b> With a low cutoff the poles crowd at 1 and rounding shifts the gain at zero frequency by about
 * {@code 1e-17 (sampleRateHz / cutoffHz)^2}; cutoffs under {@value #LOWEST_RELATIVE_CUTOFF} of the sample rate, where that
 * reaches 1e-7, are refused.
 *
 * <p><b>Errors.</b> {@link IllegalArgumentException} names the argument, its value and what is allowed.
 *
 * <p><b>Source.</b> S. Butterworth, On the theory of filter amplifiers, Experimental Wireless and the Wireless Engineer 7
 * (1930) 536-541 (from memory); bilinear transform as in any text on digital filters. Checked against
 * {@code scipy.signal.butter(..., output='sos')}.
 */
public final class Butterworth {
    /** Lowest cutoff as a share of the sample rate. */
    public static final double LOWEST_RELATIVE_CUTOFF = 1e-5;

    private Butterworth() {}

    /**
     * Designs a low-pass filter.
     *
     * @param order 2, 4 or 8.
     * @param cutoffHz frequency at which the gain is {@code 1/sqrt(2)}, at least {@value #LOWEST_RELATIVE_CUTOFF} of and
     *     below half the sample rate.
     * @param sampleRateHz sample rate, finite and positive.
     * @return a filter at rest.
     * @throws IllegalArgumentException for any other argument.
     */
    public static BiquadCascade lowPass(int order, double cutoffHz, double sampleRateHz) {
        if (order != 2 && order != 4 && order != 8) {
            throw new IllegalArgumentException("order must be 2, 4 or 8: order=" + order);
        }
        FilterArguments.checkBelowNyquist("cutoffHz", cutoffHz, sampleRateHz);
        if (cutoffHz < LOWEST_RELATIVE_CUTOFF * sampleRateHz) {
            throw new IllegalArgumentException("cutoffHz must be at least " + LOWEST_RELATIVE_CUTOFF
                    + " of the sample rate: cutoffHz=" + cutoffHz + ", sampleRateHz=" + sampleRateHz);
        }
        double t = StrictMath.tan(Math.PI * cutoffHz / sampleRateHz);
        int pairs = order / 2;
        double[][] sections = new double[pairs][];
        double gain = 1;
        for (int i = 0; i < pairs; i++) {
            int k = pairs - 1 - i; // q falls with k from the real axis outwards: most damped first.
            double q = 2 * StrictMath.sin(Math.PI * (2 * k + 1) / (2.0 * order));
            double a0 = 1 + q * t + t * t;
            sections[i] = new double[] {1, 2, 1, 1, 2 * (t * t - 1) / a0, (1 - q * t + t * t) / a0};
            gain *= t * t / a0;
        }
        for (int i = 0; i < 3; i++) {
            sections[0][i] *= gain;
        }
        return new BiquadCascade(sections);
    }
}
