package io.heldmark.filter;

import java.util.Arrays;
import java.util.Objects;

/**
 * A recursive filter as a cascade of second-order sections, one sample or one block at a time.
 *
 * <p><b>Method.</b> Each section is
 *
 * <pre>
 *          b0 + b1 z^-1 + b2 z^-2
 *   H(z) = ----------------------
 *           1 + a1 z^-1 + a2 z^-2
 * </pre>
 *
 * in direct form II transposed: {@code y = b0 x + s1}, {@code s1' = b1 x - a1 y + s2}, {@code s2' = b2 x - a2 y}. The
 * products and sums are taken in exactly this order, without fused multiply-add, so that the same samples give the same
 * bits on every machine.
 *
 * <p><b>Units and shape.</b> Input and output have the same unit, one channel; the filter knows no sample rate but the
 * one it was designed for. It is causal: its output lags by {@link #dcGroupDelayS}. Nothing is allocated after
 * construction.
 *
 * <p><b>Gaps.</b> Missing samples are not filtered over. After a gap, as at the start, call {@link #prime} with the first
 * sample that came: the filter then behaves as if that value had stood for ever, and no step from zero rings through it.
 *
 * <p><b>Errors.</b> A sample beyond {@value #INPUT_LIMIT} in magnitude, infinite or NaN is refused with
 * {@link IllegalArgumentException}: one such value inside a recursive filter would spoil every later output. The refusal
 * comes before any change, so state and block are as they were and the caller may go on with the next sample.
 *
 * <p><b>Threading.</b> Single writer.
 *
 * <p><b>Source.</b> Oppenheim and Schafer, Discrete-Time Signal Processing, chapter on structures (transposed direct form
 * II), from memory; sections, steady state and outputs are checked against SciPy's {@code sosfilt} and
 * {@code sosfilt_zi}.
 */
public final class BiquadCascade {
    /** Largest magnitude of an input; far beyond any force, and far enough from overflow for any stable section. */
    public static final double INPUT_LIMIT = 1e100;

    private static final int COEFFICIENTS = 5;
    private static final int STATES = 2;

    private final double[] coefficients; // b0 b1 b2 a1 a2, section after section
    private final double[] states; // s1 s2, section after section

    /**
     * Makes a filter at rest.
     *
     * @param sections one row a section: {@code b0, b1, b2, a0, a1, a2} with {@code a0 == 1}, in the order in which the
     *     samples pass them (the form of SciPy's {@code sos}); copied.
     * @throws IllegalArgumentException if there is no section, a row has another length, a coefficient is not finite,
     *     {@code a0} is not 1 or a section is not stable.
     */
    public BiquadCascade(double[][] sections) {
        if (sections.length == 0) {
            throw new IllegalArgumentException("a filter needs at least one section: sections.length=0");
        }
        coefficients = new double[COEFFICIENTS * sections.length];
        states = new double[STATES * sections.length];
        for (int i = 0; i < sections.length; i++) {
            double[] row = sections[i];
            checkSection(row, i);
            int c = COEFFICIENTS * i;
            System.arraycopy(row, 0, coefficients, c, 3);
            System.arraycopy(row, 4, coefficients, c + 3, 2);
        }
    }

    /**
     * Filters one sample.
     *
     * @throws IllegalArgumentException if it is not a number within {@value #INPUT_LIMIT}.
     */
    public double next(double x) {
        checkInput(x, -1);
        return step(x);
    }

    /**
     * Filters a block in place.
     *
     * @param x samples, replaced by their filtered values.
     * @param off index of the first sample.
     * @param n number of samples, may be 0.
     * @throws IllegalArgumentException if a sample is not a number within {@value #INPUT_LIMIT}; nothing is changed then.
     * @throws IndexOutOfBoundsException if the range is not inside the array.
     */
    public void process(double[] x, int off, int n) {
        Objects.checkFromIndexSize(off, n, x.length);
        for (int i = off; i < off + n; i++) {
            checkInput(x[i], i);
        }
        run(x, off, n, 1);
    }

    /**
     * Filters samples in place, one after the other from a first one on, in either direction.
     *
     * @param first index of the first one.
     * @param by 1 for forward, -1 for backward.
     * @throws IllegalArgumentException if a sample is not a number within {@value #INPUT_LIMIT}; those before it are changed.
     */
    void run(double[] x, int first, int n, int by) {
        if (coefficients.length == COEFFICIENTS) {
            runOneSection(x, first, n, by);
            return;
        }
        for (int k = 0, i = first; k < n; k++, i += by) {
            checkInput(x[i], i);
            x[i] = step(x[i]);
        }
    }

    /** Puts the filter at rest, as if the input had been zero for ever. */
    public void reset() {
        Arrays.fill(states, 0);
    }

    /**
     * Puts the filter into the steady state that a constant input leaves behind; the next output for that input is the
     * input times the filter's gain at zero frequency.
     *
     * <p>With {@code g = (b0 + b1 + b2) / (1 + a1 + a2)} a section that sees {@code u} holds {@code s1 = (g - b0) u},
     * {@code s2 = (b2 - a2 g) u} and passes {@code g u} on.
     *
     * @param steadyInput the constant input.
     * @throws IllegalArgumentException if it is not a number within {@value #INPUT_LIMIT}.
     */
    public void prime(double steadyInput) {
        checkInput(steadyInput, -1);
        double u = steadyInput;
        for (int c = 0, s = 0; c < coefficients.length; c += COEFFICIENTS, s += STATES) {
            double g = dcGain(c);
            states[s] = (g - coefficients[c]) * u;
            states[s + 1] = (coefficients[c + 2] - coefficients[c + 4] * g) * u;
            u = g * u;
        }
    }

    /**
     * Returns by how much the filter delays slow changes: the group delay at zero frequency, in seconds.
     *
     * <p>For a section: {@code (b1 + 2 b2) / (b0 + b1 + b2) - (a1 + 2 a2) / (1 + a1 + a2)} samples.
     */
    public double dcGroupDelayS(double sampleRateHz) {
        return groupDelayS(0, sampleRateHz);
    }

    /**
     * Returns the group delay at a frequency, in seconds: the delay of the envelope of a narrow band around it.
     *
     * <p>A polynomial {@code c0 + c1 z^-1 + c2 z^-2} delays by the real part of
     * {@code (c1 z^-1 + 2 c2 z^-2) / (c0 + c1 z^-1 + c2 z^-2)} on the unit circle; numerators add, denominators subtract.
     * A symmetric polynomial ({@code c0 == c2}) delays by exactly one sample, also where its value is zero.
     *
     * @param frequencyHz frequency, 0 to half the sample rate.
     * @param sampleRateHz the sample rate that the filter was designed for.
     * @throws IllegalArgumentException if the rate is not positive or the frequency is beyond half of it.
     */
    public double groupDelayS(double frequencyHz, double sampleRateHz) {
        FilterArguments.checkSampleRate(sampleRateHz);
        if (!(frequencyHz >= 0 && frequencyHz <= sampleRateHz / 2)) {
            throw new IllegalArgumentException("frequencyHz must be 0 to sampleRateHz / 2: frequencyHz=" + frequencyHz
                    + ", sampleRateHz=" + sampleRateHz);
        }
        double w = 2 * Math.PI * frequencyHz / sampleRateHz;
        double samples = 0;
        for (int c = 0; c < coefficients.length; c += COEFFICIENTS) {
            samples += delaySamples(coefficients[c], coefficients[c + 1], coefficients[c + 2], w);
            samples -= delaySamples(1, coefficients[c + 3], coefficients[c + 4], w);
        }
        return samples / sampleRateHz;
    }

    /** Returns a copy of the sections, one row each: {@code b0, b1, b2, 1, a1, a2}. */
    public double[][] sections() {
        double[][] rows = new double[coefficients.length / COEFFICIENTS][];
        for (int i = 0; i < rows.length; i++) {
            int c = COEFFICIENTS * i;
            rows[i] = new double[] {
                coefficients[c], coefficients[c + 1], coefficients[c + 2], 1, coefficients[c + 3], coefficients[c + 4]
            };
        }
        return rows;
    }

    private double step(double x) {
        double y = x;
        for (int c = 0, s = 0; c < coefficients.length; c += COEFFICIENTS, s += STATES) {
            double in = y;
            y = coefficients[c] * in + states[s];
            states[s] = coefficients[c + 1] * in - coefficients[c + 3] * y + states[s + 1];
            states[s + 1] = coefficients[c + 2] * in - coefficients[c + 4] * y;
        }
        return y;
    }

    /** The same as {@link #step} for a single section, to the bit; what is in local variables needs no array. */
    private void runOneSection(double[] x, int first, int n, int by) {
        double b0 = coefficients[0];
        double b1 = coefficients[1];
        double b2 = coefficients[2];
        double a1 = coefficients[3];
        double a2 = coefficients[4];
        double s1 = states[0];
        double s2 = states[1];
        for (int k = 0, i = first; k < n; k++, i += by) {
            double in = x[i];
            checkInput(in, i); // Costs nothing here: what follows waits for the sample before.
            double y = b0 * in + s1;
            s1 = b1 * in - a1 * y + s2;
            s2 = b2 * in - a2 * y;
            x[i] = y;
        }
        states[0] = s1;
        states[1] = s2;
    }

    private double dcGain(int c) {
        return (coefficients[c] + coefficients[c + 1] + coefficients[c + 2])
                / (1 + coefficients[c + 3] + coefficients[c + 4]);
    }

    private static double delaySamples(double c0, double c1, double c2, double w) {
        if (c0 == c2) {
            return 1;
        }
        double cos1 = StrictMath.cos(w);
        double sin1 = StrictMath.sin(w);
        double cos2 = StrictMath.cos(2 * w);
        double sin2 = StrictMath.sin(2 * w);
        double re = c0 + c1 * cos1 + c2 * cos2;
        double im = -(c1 * sin1 + c2 * sin2);
        double weightedRe = c1 * cos1 + 2 * c2 * cos2;
        double weightedIm = -(c1 * sin1 + 2 * c2 * sin2);
        return (weightedRe * re + weightedIm * im) / (re * re + im * im);
    }

    private static void checkInput(double x, int index) {
        if (Math.abs(x) <= INPUT_LIMIT) {
            return;
        }
        throw new IllegalArgumentException("a filter takes finite numbers only (a gap is a flag and a new prime()): x="
                + x + (index < 0 ? "" : ", index=" + index));
    }

    private static void checkSection(double[] row, int section) {
        if (row.length != COEFFICIENTS + 1) {
            throw new IllegalArgumentException(
                    "a section has six coefficients: section=" + section + ", length=" + row.length);
        }
        for (double value : row) {
            if (!(Math.abs(value) <= INPUT_LIMIT)) {
                throw new IllegalArgumentException(
                        "a coefficient must be finite: section=" + section + ", value=" + value);
            }
        }
        double a1 = row[4];
        double a2 = row[5];
        // Both poles lie inside the unit circle exactly where |a2| < 1 and |a1| < 1 + a2 (the stability triangle).
        if (!(row[3] == 1 && Math.abs(a2) < 1 && Math.abs(a1) < 1 + a2)) {
            throw new IllegalArgumentException("a section must have a0 = 1 and be stable: section=" + section + ", a0="
                    + row[3] + ", a1=" + a1 + ", a2=" + a2);
        }
    }
}
