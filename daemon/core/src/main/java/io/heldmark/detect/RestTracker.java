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
 * <p><b>How often.</b> Followed is a smoothed sample every 5 ms at most ({@link #isDue}): means over 20 ms that lie nearer to one
 * another say nearly the same, and every lag is a hundred times as long.
 *
 * <p><b>Units.</b> Newtons, seconds. O(1) per sample, nothing allocated.
 *
 * <p><b>Source.</b> Common practice, no published source; evidence in {@code docs/detection.md}.
 */
final class RestTracker {
    private static final double LAG_S = 0.5; // A power of two: to divide by it first or last gives the same bits.
    private static final double SETTLING_LAG_S = 0.05;
    private static final double NOISE_LAG_S = 2;
    private static final double NEAR_N_PER_S = 1;
    private static final double FAR_N_PER_S = 0.5;
    private static final double SETTLING_UP_N_PER_S = 20;
    private static final double SETTLING_DOWN_N_PER_S = 2000;
    private static final double STANDS_OUT_N = 2;
    private static final double STANDS_OUT = 2.5;
    private static final double CUT = 3;
    private static final double NOISE_MOST_N = 5;
    private static final double EVERY_S = 0.005;

    private final int stride;
    private final double periodS;
    private final double gain;
    private final double nearMostN;
    private final double farMostN;
    private final double noiseShare;
    private final double varianceLeastN2;
    private final double varianceMostN2;
    private double levelN;
    private double varianceN2;
    private long settlingUntilNs = Long.MIN_VALUE;

    /**
     * Makes a tracker.
     *
     * @param resolution the size of one count in newtons.
     * @param rateHz smoothed samples a second.
     */
    RestTracker(double resolution, double rateHz) {
        stride = stride(rateHz);
        periodS = stride / rateHz;
        gain = periodS / LAG_S;
        nearMostN = NEAR_N_PER_S * periodS;
        farMostN = FAR_N_PER_S * periodS;
        noiseShare = Math.min(1, periodS / NOISE_LAG_S);
        double noiseLeastN = Math.max(0.02, Math.min(resolution, NOISE_MOST_N) / Math.sqrt(12));
        varianceLeastN2 = noiseLeastN * noiseLeastN;
        varianceMostN2 = NOISE_MOST_N * NOISE_MOST_N;
        varianceN2 = limited(varianceLeastN2);
    }

    /** Returns how many smoothed samples lie from one that is followed to the next. */
    static int stride(double rateHz) {
        return (int) Math.max(1, EVERY_S * rateHz);
    }

    /** Returns the same of this tracker. */
    int stride() {
        return stride;
    }

    /** Tells whether the smoothed sample at a position of its ring is one that is followed. */
    boolean isDue(long position) {
        return position % stride == 0;
    }

    /** Returns by how much the level moves at most within a time, while nothing settles. */
    static double mostMovedN(double timeS) {
        return NEAR_N_PER_S * timeS;
    }

    /** Starts from a learned level and noise. */
    void start(double startLevelN, double startNoiseN) {
        set(startLevelN, limited(startNoiseN * startNoiseN));
    }

    /** Sets the level, after handling. */
    void moveTo(double newLevelN) {
        levelN = newLevelN;
    }

    /** Goes on from a level and a variance that {@link #nextLevelN} and {@link #nextVarianceN2} gave. */
    void set(double newLevelN, double newVarianceN2) {
        levelN = newLevelN;
        varianceN2 = newVarianceN2;
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

    /** Tells whether a level that settles never goes beyond the smoothed sample that it follows. */
    boolean settlesWithoutOvershoot() {
        return periodS <= SETTLING_LAG_S;
    }

    double levelN() {
        return levelN;
    }

    double varianceN2() {
        return varianceN2;
    }

    double noiseN() {
        return Math.sqrt(varianceN2);
    }

    /** Takes a smoothed sample at rest. */
    void follow(long nowNs, double meanN) {
        if (settling(nowNs)) {
            double wanted = (meanN - levelN) * periodS / SETTLING_LAG_S;
            levelN += limited(wanted, SETTLING_DOWN_N_PER_S * periodS, SETTLING_UP_N_PER_S * periodS);
        } else {
            levelN = nextLevelN(levelN, varianceN2, meanN);
        }
    }

    /** Takes the difference of two smoothed samples that do not overlap. */
    void scatter(double differenceN) {
        varianceN2 = nextVarianceN2(varianceN2, differenceN);
    }

    /** Returns the level after a smoothed sample while nothing settles; of its arguments alone. */
    double nextLevelN(double level, double variance, double meanN) {
        double e = meanN - level;
        double distance = Math.abs(e);
        // From 2 N and 2.5 times the noise on the trace stands out; the root is seldom needed.
        double most = distance < STANDS_OUT_N || distance < STANDS_OUT * Math.sqrt(variance) ? nearMostN : farMostN;
        return level + limited(e * gain, most, most);
    }

    /** Returns the variance after such a difference; of its arguments alone. */
    double nextVarianceN2(double variance, double differenceN) {
        double most = CUT * CUT * variance;
        double square = differenceN * differenceN / 2;
        square = square > most ? most : square;
        return limited(variance + (square - variance) * noiseShare);
    }

    /** Comparisons, that nearly always end the same way, are quicker than {@link Math#max}. */
    private static double limited(double wanted, double down, double up) {
        return wanted > up ? up : wanted < -down ? -down : wanted;
    }

    private double limited(double variance) {
        return variance > varianceMostN2 ? varianceMostN2 : variance < varianceLeastN2 ? varianceLeastN2 : variance;
    }
}
