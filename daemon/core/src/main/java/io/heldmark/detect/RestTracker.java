package io.heldmark.detect;

/**
 * What rest reads on one channel, and how much it scatters.
 *
 * <p><b>Method.</b> The level follows the smoothed trace as a first-order lag of 0.5 s whose speed is limited: to 1 N/s
 * near rest, to 0.5 N/s while the trace stands out. Thermal drift and creep of a cell are slower than that and are
 * followed; the slowest effort that counts (10 N/s) is faster and is not. For half a second after handling or a
 * contraction ({@link #settle}) it may move faster, downwards above all.
 *
 * <p>The noise is the standard deviation of the smoothed trace, from the differences d of means that do not overlap:
 * sqrt(mean d^2 / 2), a first-order lag of 2 s over squares that are cut at three times the deviation. Differences do not
 * feel a level that is off, which squares about the level would: they would take a slow rise for noise and miss it.
 *
 * <p><b>Units.</b> Newtons, seconds. O(1) per sample, nothing allocated.
 *
 * <p><b>Source.</b> Common practice, no published source; evidence in {@code docs/detection.md}.
 */
final class RestTracker {
    private static final double LAG_S = 0.5;
    private static final double SETTLING_LAG_S = 0.05;
    private static final double NOISE_LAG_S = 2;
    private static final double NEAR_N_PER_S = 1;
    private static final double FAR_N_PER_S = 0.5;
    private static final double SETTLING_UP_N_PER_S = 20;
    private static final double SETTLING_DOWN_N_PER_S = 2000;
    private static final double CUT = 3;
    private static final double NOISE_MOST_N = 5;

    private final double noiseLeastN;
    private double levelN;
    private double varianceN2;
    private double noiseN; // Its root.
    private long settlingUntilNs = Long.MIN_VALUE;

    /** Makes a tracker; the resolution is the size of one count in newtons. */
    RestTracker(double resolution) {
        noiseLeastN = Math.max(0.02, Math.min(resolution, NOISE_MOST_N) / Math.sqrt(12));
        setVariance(noiseLeastN * noiseLeastN);
    }

    /** Returns by how much the level moves at most within a time, while nothing settles. */
    static double mostMovedN(double timeS) {
        return NEAR_N_PER_S * timeS;
    }

    /** Starts from a learned level and noise. */
    void start(double startLevelN, double startNoiseN) {
        levelN = startLevelN;
        setVariance(startNoiseN * startNoiseN);
    }

    /** Sets the level, after handling. */
    void moveTo(double newLevelN) {
        levelN = newLevelN;
    }

    /** Refers the level to a session zero that lies higher. */
    void shiftZero(double shiftN) {
        levelN -= shiftN;
    }

    /** Lets the level move faster until a time. */
    void settle(long untilNs) {
        settlingUntilNs = untilNs;
    }

    /** Tells whether the level may move faster. */
    boolean settling(long nowNs) {
        return nowNs < settlingUntilNs;
    }

    double levelN() {
        return levelN;
    }

    double noiseN() {
        return noiseN;
    }

    /** Takes a smoothed sample at rest. */
    void follow(long nowNs, double meanN, double periodS) {
        if (settling(nowNs)) {
            double wanted = (meanN - levelN) * periodS / SETTLING_LAG_S;
            move(wanted, SETTLING_DOWN_N_PER_S * periodS, SETTLING_UP_N_PER_S * periodS);
        } else {
            follow(meanN, periodS);
        }
    }

    /** Takes one while nothing settles. */
    void follow(double meanN, double periodS) {
        double e = meanN - levelN;
        double farN = Math.max(2, 2.5 * noiseN); // From there on the trace stands out.
        double most = (Math.abs(e) < farN ? NEAR_N_PER_S : FAR_N_PER_S) * periodS;
        move(e * periodS / LAG_S, most, most);
    }

    /** Comparisons, that nearly always end the same way, are quicker than {@link Math#max}. */
    private void move(double wanted, double down, double up) {
        levelN += wanted > up ? up : wanted < -down ? -down : wanted;
    }

    /** Takes the difference of two smoothed samples that do not overlap. */
    void scatter(double differenceN, double periodS) {
        double most = CUT * CUT * varianceN2;
        double square = differenceN * differenceN / 2;
        square = square > most ? most : square;
        setVariance(varianceN2 + (square - varianceN2) * Math.min(1, periodS / NOISE_LAG_S));
    }

    private void setVariance(double variance) {
        double least = noiseLeastN * noiseLeastN;
        double most = NOISE_MOST_N * NOISE_MOST_N;
        varianceN2 = variance > most ? most : variance < least ? least : variance;
        noiseN = Math.sqrt(varianceN2);
    }
}
