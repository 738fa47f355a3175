package io.heldmark.align;

/**
 * How much constant delay the arrivals could hide: the part of the link's rhythm that no frame has sampled yet.
 *
 * <p><b>Idea.</b> A radio link or a USB adapter hands data over in a rhythm; a frame waits for the next beat. If frames
 * come in the same rhythm they all wait equally long, and the arrivals look as regular as those of a cable. If the
 * rhythms differ, the wait walks through its whole range and some frames hardly wait at all. Of each burst of arrivals
 * only the last frame is looked at: its wait lies between 0 and the smaller of packet period and beat, here called the
 * <em>range</em>. What waits were seen is the residual above the envelope, folded into the range; what lies between the
 * largest of them and the full range has not been seen, and just as much may be missing below the envelope.
 *
 * <p><b>Range.</b> The packet period is read from the ticks. Where frames are rarer than beats, gaps between arrivals
 * fall into two groups one beat apart; where two such groups stand out, their distance is the beat. Otherwise the range is
 * the packet period, which is never too small ({@link GapGroups}).
 *
 * <p><b>Robustness.</b> Two percent of the residuals may lie anywhere. Nothing is allocated after construction; the
 * evaluation looks at {@value #RING} numbers every {@value #EVERY} bursts, every {@value #EVERY_FULL} once the ring is full.
 */
final class ArrivalPhase {
    static final int RING = GapGroups.RING;
    static final int EVERY = 32;
    static final int EVERY_FULL = RING / 2;
    static final int ENOUGH = 16;
    /** Range that is assumed before the rhythm is known, in nanoseconds: the longest usual connection interval. */
    static final double ASSUMED_RANGE_NS = 50e6;

    private static final int ENOUGH_FOR_GROUPS = 64;
    private static final double OUTLIERS = 0.02;
    private static final double FIRST_LONG_SHARE = 0.02;
    private static final double BURST_SHARE = 0.3;

    private final double[] x = new double[RING];
    private final double[] z = new double[RING];
    private final GapGroups gaps = new GapGroups();
    private final double[] folded = new double[RING];
    private final double[] longWaits = new double[RING];
    /** How far below the last result a wait may be and still is put among the long ones, as a share of the range. */
    private double longShare = FIRST_LONG_SHARE;

    private double longFromNs;
    private final PeriodMedian periods = new PeriodMedian();
    private boolean started;
    private int count;
    private int next;
    private int sinceEvaluation;
    private int dueAfter = Integer.MAX_VALUE;
    private double pendingX;
    private double pendingZ;
    private double burstNs;
    private double previousBurstNs;
    private boolean evaluated;
    private double rangeNs;
    private double hiddenNs;
    private double jitterNs;

    /** Forgets everything. */
    void clear() {
        started = false;
        count = 0;
        next = 0;
        sinceEvaluation = 0;
        dueAfter = Integer.MAX_VALUE;
        periods.clear();
        gaps.clear();
        evaluated = false;
        jitterNs = 0;
    }

    /** Takes a frame: device time of its last sample, and station time minus that, from the anchor. */
    void add(double frameX, double frameZ) {
        double arrivalNs = frameX + frameZ;
        if (started) {
            periods.add(frameX - pendingX);
            if (arrivalNs - burstNs > BURST_SHARE * periods.medianNs()) {
                closeBurst();
            }
        }
        started = true;
        burstNs = arrivalNs;
        pendingX = frameX;
        pendingZ = frameZ;
    }

    /** Tells whether enough bursts came to evaluate again. */
    boolean due() {
        return sinceEvaluation >= dueAfter;
    }

    /**
     * Evaluates the residuals above a line.
     *
     * @param skewUncertainty standard uncertainty of the line's skew; what it may tilt over the ring looks like waits
     *     that were seen, and is not counted as such.
     */
    void evaluate(double lineOffset, double lineSkew, double skewUncertainty) {
        sinceEvaluation = 0;
        evaluated = true;
        double periodNs = periods.medianNs();
        double range = Math.min(periodNs, count >= ENOUGH_FOR_GROUPS ? gaps.distanceNs() : periodNs);
        double sum = 0;
        double sumOfSquares = 0;
        double longFrom = longFromNs;
        int many = 0;
        double margin = 0.02 * range + 0.1e6;
        for (int i = 0; i < count; i++) {
            double distance = z[i] - lineOffset - lineSkew * x[i];
            sum += distance;
            sumOfSquares += distance * distance;
            double residual = distance > 0 ? distance : 0; // Below the line is an error of the line, not a long wait.
            double rest = residual < range ? residual : residual - range * Math.floor(residual / range);
            double wait = rest > range - margin ? 0 : rest; // Just below the range is just below zero: jitter.
            folded[i] = wait;
            if (wait >= longFrom) {
                longWaits[many++] = wait;
            }
        }
        rangeNs = range;
        double mean = sum / count;
        jitterNs = Math.sqrt(Math.max(0, sumOfSquares / count - mean * mean));
        double mostNs = pickMost(many);
        double seenNs = mostNs - skewUncertainty * ringSpanNs();
        hiddenNs = rangeNs - Math.max(0, seenNs);
    }

    /**
     * Returns the longest wait but for the outliers. The rank is counted from the top, and what was put among the long waits are
     * the longest of all: where there are enough of them, it is found among them alone. Where the line of what is long lies
     * only decides upon the work.
     */
    private double pickMost(int many) {
        int index = (int) ((1 - OUTLIERS) * (count - 1));
        int fromTop = count - index;
        boolean enough = many >= fromTop;
        double mostNs =
                enough ? InPlaceSort.pick(longWaits, many, many - fromTop) : InPlaceSort.pick(folded, count, index);
        if (many < 2 * fromTop) {
            longShare = Math.min(1, 1.5 * longShare);
        } else if (many > 3 * fromTop) {
            longShare *= 0.7;
        }
        longFromNs = mostNs - longShare * rangeNs;
        return mostNs;
    }

    /** Returns the range of waits, in nanoseconds. */
    double rangeNs() {
        return evaluated ? rangeNs : Math.max(ASSUMED_RANGE_NS, periods.medianNs());
    }

    /** Returns how much wait may hide below the envelope, in nanoseconds, 0 to the range. */
    double hiddenNs() {
        return evaluated ? hiddenNs : rangeNs();
    }

    /** Returns the standard deviation of the residuals, in nanoseconds; 0 while unknown. */
    double jitterNs() {
        return jitterNs;
    }

    /** Returns the device time between two frames, in nanoseconds; 0 while unknown. */
    double periodNs() {
        return periods.medianNs();
    }

    private void closeBurst() {
        gaps.add(count > 0 ? burstNs - previousBurstNs : periods.medianNs());
        previousBurstNs = burstNs;
        x[next] = pendingX;
        z[next] = pendingZ;
        next = (next + 1) & (RING - 1);
        sinceEvaluation++;
        if (count < RING) {
            count++;
            dueAfter = count < ENOUGH ? Integer.MAX_VALUE : count < RING ? Math.min(EVERY, count / 2) : EVERY_FULL;
        }
    }

    private double ringSpanNs() {
        int oldest = count < RING ? 0 : next;
        int newest = (next + RING - 1) % RING;
        return Math.max(0, x[newest] - x[oldest]);
    }
}
