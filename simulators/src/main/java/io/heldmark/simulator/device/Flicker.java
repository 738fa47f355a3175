package io.heldmark.simulator.device;

import io.heldmark.simulator.math.SeededRandom;

/**
 * Noise whose power goes with 1/f: a sum of first-order processes with corner frequencies an octave apart, equal in power.
 *
 * <p>Between the lowest and the highest corner the spectrum follows 1/f within about 0.5 dB. Source: a sum of relaxation
 * processes with spread time constants, van der Ziel 1950, Physica 16, 359-372 (from memory).
 */
final class Flicker {
    private static final double LOWEST_HZ = 0.01;

    private final SeededRandom random;
    private final double[] keep;
    private final double[] drive;
    private final double[] state;

    /**
     * Makes the noise.
     *
     * @param sd its standard deviation; 0 for none.
     * @param sampleRateHz how often it is asked for.
     * @param random its stream.
     */
    Flicker(double sd, double sampleRateHz, SeededRandom random) {
        this.random = random;
        int octaves = 1;
        while (LOWEST_HZ * StrictMath.pow(2, octaves) <= sampleRateHz / 4) {
            octaves++;
        }
        int terms = sd > 0 ? octaves : 0;
        keep = new double[terms];
        drive = new double[terms];
        state = new double[terms];
        for (int i = 0; i < terms; i++) {
            double cornerHz = LOWEST_HZ * StrictMath.pow(2, i);
            keep[i] = StrictMath.exp(-2 * Math.PI * cornerHz / sampleRateHz);
            drive[i] = sd * Math.sqrt((1 - keep[i] * keep[i]) / terms);
            state[i] = sd / Math.sqrt(terms) * random.nextGaussian();
        }
    }

    /** Returns the next value. */
    double next() {
        double sum = 0;
        for (int i = 0; i < state.length; i++) {
            state[i] = keep[i] * state[i] + drive[i] * random.nextGaussian();
            sum += state[i];
        }
        return sum;
    }
}
