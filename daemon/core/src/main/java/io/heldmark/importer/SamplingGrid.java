package io.heldmark.importer;

import java.util.Arrays;

/**
 * How the times of a file step: the period, and which steps are regular, gaps or neither.
 *
 * <p><b>Rule.</b> A step over {@value #GAP} periods is a gap, a step within a quarter of the period is regular. Everything
 * else is irregular sampling, which no method here can use. Where times are written coarsely (below) both limits are
 * widened to the last written digit.
 *
 * <p><b>Period.</b> Mean of the steps up to {@value #GAP} medians, so that a few lost samples do not matter; taken as that
 * of the nearest whole hertz where it lies within 0.1 % of it. Where times are written so coarsely that regular steps
 * differ by a whole last digit (1.4 ms written as 1 or 2), the mean is taken over steps of one digit more, and times carry
 * the uncertainty of that rounding, digit / sqrt(12) (GUM 4.3.7).
 *
 * <p><b>Source.</b> Common practice, no published source.
 *
 * @param periodNs the period, in nanoseconds.
 * @param gapNs longest step without missing samples.
 * @param toleranceNs how far a regular step may be from the period.
 * @param timeStandardUncertaintyNs standard uncertainty of a written time.
 */
record SamplingGrid(double periodNs, double gapNs, double toleranceNs, double timeStandardUncertaintyNs) {
    static final double GAP = 1.5;
    private static final double TOLERANCE = 0.25;
    private static final double COARSE = 0.2;
    private static final double COARSE_SHARE = 0.15;
    private static final double ROUND_HERTZ = 0.001;

    /**
     * Judges the steps at the head of a file.
     *
     * @param stepsNs steps between successive times, all over 0; at least one.
     * @param digitNs size of the last written digit of the times; 0 where unknown.
     */
    static SamplingGrid of(long[] stepsNs, long digitNs) {
        long[] sorted = stepsNs.clone();
        Arrays.sort(sorted);
        double median = sorted[sorted.length / 2];
        boolean coarse = isCoarse(sorted, median, digitNs);
        double mostNs = coarse ? Math.max(GAP * median, median + 1.01 * digitNs) : GAP * median;
        double sum = 0;
        int count = 0;
        for (long step : sorted) {
            if (step <= mostNs) {
                sum += step;
                count++;
            }
        }
        double hertz = 1e9 * count / sum;
        double whole = Math.rint(hertz);
        double period = Math.abs(hertz - whole) <= ROUND_HERTZ * hertz && whole > 0 ? 1e9 / whole : sum / count;
        double digit = coarse ? 1.01 * digitNs : 0;
        return new SamplingGrid(
                period,
                Math.max(GAP * period, period + digit),
                Math.max(TOLERANCE * period, digit),
                coarse ? digitNs / Math.sqrt(12) : 0);
    }

    private static boolean isCoarse(long[] steps, double median, long digitNs) {
        if (digitNs < COARSE * median) {
            return false;
        }
        long off = Arrays.stream(steps)
                .filter(s -> s != (long) median && Math.abs(s - median) <= 1.01 * digitNs)
                .count();
        return off > COARSE_SHARE * steps.length;
    }

    /** Returns the sample rate, in hertz. */
    double sampleRateHz() {
        return 1e9 / periodNs;
    }

    /** Tells whether samples are missing within a step. */
    boolean isGap(long stepNs) {
        return stepNs > gapNs;
    }

    /** Tells whether a step that is no gap is as long as it should be. */
    boolean isRegular(long stepNs) {
        return Math.abs(stepNs - periodNs) <= toleranceNs;
    }
}
