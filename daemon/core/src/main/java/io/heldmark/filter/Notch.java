package io.heldmark.filter;

/**
 * Design of a notch for mains hum (50 or 60 Hz).
 *
 * <p><b>Method.</b> Second-order notch with zeros on the unit circle and a bandwidth of {@code frequencyHz / q} between
 * the -3 dB points. With {@code w = 2 pi frequencyHz / sampleRateHz}, {@code beta = tan(w / (2 q))} and
 * {@code g = 1 / (1 + beta)}: {@code b = g (1, -2 cos w, 1)}, {@code a = (1, -2 g cos w, 2 g - 1)}. The gain is 1 at zero
 * frequency and at half the sample rate and 0 at the notch.
 *
 * <p><b>Caveat.</b> A narrow notch rings: its envelope falls with the time constant of about
 * {@code q / (pi frequencyHz)}, 0.19 s at 50 Hz and q = 30, after every rise of the force. A sample rate below twice the
 * mains frequency folds the hum to another frequency; the notch belongs there then.
 *
 * <p><b>Source.</b> S. J. Orfanidis, Introduction to Signal Processing, Prentice-Hall 1996 (the design behind SciPy's
 * {@code iirnotch}, as its documentation says). Checked against {@code scipy.signal.iirnotch}.
 */
public final class Notch {
    private Notch() {}

    /**
     * Designs a notch.
     *
     * @param frequencyHz the frequency to remove, above 0 and below half the sample rate.
     * @param q quality, frequency over -3 dB bandwidth, finite and above 0.5.
     * @param sampleRateHz sample rate, finite and positive.
     * @return a filter at rest, one section.
     * @throws IllegalArgumentException for any other argument, naming it.
     */
    public static BiquadCascade at(double frequencyHz, double q, double sampleRateHz) {
        FilterArguments.checkBelowNyquist("frequencyHz", frequencyHz, sampleRateHz);
        if (!(q > 0.5 && q <= Double.MAX_VALUE)) {
            throw new IllegalArgumentException("q must be finite and above 0.5: q=" + q);
        }
        double w = 2 * Math.PI * frequencyHz / sampleRateHz;
        double g = 1 / (1 + StrictMath.tan(w / (2 * q)));
        double cos = StrictMath.cos(w);
        return new BiquadCascade(new double[][] {{g, -2 * g * cos, g, 1, -2 * g * cos, 2 * g - 1}});
    }
}
