package io.heldmark.simulator.math;

/**
 * A sum of sinusoids: a slow or fast fluctuation that is known exactly at every time.
 *
 * <p>{@code value(t) = sum of amplitude * sin(2 pi f t + phase)}, t in seconds. With no terms it is 0.
 */
public final class Sinusoids {
    /** The sum without terms. */
    public static final Sinusoids NONE = new Sinusoids(new double[0], new double[0], new double[0]);

    private final double[] amplitude;
    private final double[] frequencyHz;
    private final double[] phaseCycles;

    private Sinusoids(double[] amplitude, double[] frequencyHz, double[] phaseCycles) {
        this.amplitude = amplitude;
        this.frequencyHz = frequencyHz;
        this.phaseCycles = phaseCycles;
    }

    /**
     * Draws terms spread over a band.
     *
     * @param random stream to draw from.
     * @param terms number of terms.
     * @param lowHz lower end of the band, in hertz.
     * @param highHz upper end of the band, in hertz.
     * @param rms root mean square of the sum, over a long time.
     * @param slope amplitudes go with frequency^-slope: 0 gives equal terms.
     */
    public static Sinusoids band(
            SeededRandom random, int terms, double lowHz, double highHz, double rms, double slope) {
        if (!(rms > 0)) {
            return NONE;
        }
        double[] amplitude = new double[terms];
        double[] frequencyHz = new double[terms];
        double[] phaseCycles = new double[terms];
        double power = 0;
        for (int i = 0; i < terms; i++) {
            // One term in each equal part of the band, so that no two of them beat for minutes.
            double part = (i + random.nextDouble()) / terms;
            frequencyHz[i] = lowHz + (highHz - lowHz) * part;
            amplitude[i] = StrictMath.pow(frequencyHz[i], -slope);
            phaseCycles[i] = random.nextDouble();
            power += amplitude[i] * amplitude[i] / 2;
        }
        double scale = rms / Math.sqrt(power);
        for (int i = 0; i < terms; i++) {
            amplitude[i] *= scale;
        }
        return new Sinusoids(amplitude, frequencyHz, phaseCycles);
    }

    /** Makes one term. */
    public static Sinusoids one(double amplitude, double frequencyHz, double phaseCycles) {
        return new Sinusoids(new double[] {amplitude}, new double[] {frequencyHz}, new double[] {phaseCycles});
    }

    /** Returns the sum at a time in seconds. */
    public double value(double timeS) {
        double sum = 0;
        for (int i = 0; i < amplitude.length; i++) {
            sum += amplitude[i] * Sine.ofCycles(frequencyHz[i] * timeS + phaseCycles[i]);
        }
        return sum;
    }

    /** Returns the integral of the sum from 0 to a time in seconds. */
    public double integral(double timeS) {
        double sum = 0;
        for (int i = 0; i < amplitude.length; i++) {
            double start = Sine.ofCycles(phaseCycles[i] + 0.25);
            double now = Sine.ofCycles(frequencyHz[i] * timeS + phaseCycles[i] + 0.25);
            sum += amplitude[i] / (2 * Math.PI * frequencyHz[i]) * (start - now);
        }
        return sum;
    }

    /** Returns how many terms there are. */
    public int terms() {
        return amplitude.length;
    }

    /** Returns the amplitude of a term. */
    public double amplitude(int term) {
        return amplitude[term];
    }

    /** Returns the frequency of a term, in hertz. */
    public double frequencyHz(int term) {
        return frequencyHz[term];
    }

    /** Returns the phase of a term, in cycles. */
    public double phaseCycles(int term) {
        return phaseCycles[term];
    }
}
