package io.heldmark.detect;

/**
 * Tells a weight that lies on the cell from a muscle that holds: muscle trembles and wavers, a weight does neither.
 *
 * <p><b>Method.</b> Two mean squares of the smoothed trace are known from rest: of its differences over 50 ms, which physiological
 * tremor of 8 to 12 Hz moves most (and 60-Hz hum not at all), and of its differences over 0.6 s, which slow wavering moves.
 * In an open window the same are gathered in blocks of 0.6 s; a block that is much more restless (a knock) is left out, as
 * long as twice as many are not. The window is still if
 *
 * <ul>
 *   <li>even the upper bound of the excess over 50 ms, max(m50 - r50, -d) + 1.5 d with d = r50 sqrt(2/n), is under half of the
 *       (0.0075 height)^2 that a tremor of 0.4 % of the force would add, n being the independent means gathered; and
 *   <li>the differences over 0.6 s are at most 1.3 times those of rest, or 0.3 % of the height.
 * </ul>
 *
 * The smaller the force against the noise, the longer that takes; where noise hides the tremor nothing is concluded.
 *
 * <p><b>Cost.</b> O(1) per sample, nothing allocated.
 *
 * <p><b>Source.</b> Tremor of 8 to 12 Hz: Elble and Randall 1976, J Neurophysiol 39:370-383; wavering of 0.5 to 5 % of the force:
 * Enoka et al. 2003, J Electromyogr Kinesiol 13:1-12 (both from memory). The test is the project's own; evidence in {@code
 * docs/detection.md}.
 */
final class Stillness {
    private static final double QUICK_S = 0.05;
    private static final double SLOW_S = 0.6;
    private static final long BLOCK_NS = 600_000_000L;
    private static final double REST_LAG_S = 8;
    private static final double CUT = 9;
    private static final double RESTLESS = 2.5;
    private static final double TREMOR_SHARE = 0.0075;
    private static final double SURE = 1.5;
    private static final double SLOW_RATIO = 1.3;
    private static final double SLOW_SHARE = 0.003;

    private final Smoother smoother;
    private final double periodS;
    private final int quick;
    private final int slow;
    private final double restShare;
    private final long enoughRest;
    private final long longRest;

    private double restQuick;
    private double restSlow;
    private long restCount;

    private long blockNs;
    private int blockCount;
    private double blockQuick;
    private double blockSlow;
    private double blockHeight;
    private long count;
    private long slowCount;
    private double sumQuick;
    private double sumSlow;
    private double sumHeight;
    private double highestN;
    private int stillBlocks;
    private int restlessBlocks;
    private boolean afterRestless;

    Stillness(Smoother smoother, double rateHz) {
        this.smoother = smoother;
        periodS = 1 / rateHz;
        quick = (int) Math.max(1, Math.round(QUICK_S * rateHz));
        slow = (int) Math.max(2, Math.round(SLOW_S * rateHz));
        double restPeriodS = RestTracker.stride(rateHz) * periodS;
        restShare = Math.min(1, restPeriodS / REST_LAG_S);
        enoughRest = Math.max(2, Math.round(SLOW_S / restPeriodS));
        longRest = (long) Math.ceil(1 / restShare) + 1;
    }

    /** Takes the newest smoothed sample of rest; of all, those that {@link RestTracker#isDue} are taken. */
    void rest() {
        rest(smoother.difference(quick), smoother.difference(slow));
    }

    /** Returns over how many smoothed samples it looks back. */
    int lag() {
        return slow;
    }

    /** Returns over how many smoothed samples its quick differences are. */
    int quickLag() {
        return quick;
    }

    /** Takes the differences of a smoothed sample of rest from those {@link #quickLag} and {@link #lag} before. */
    void rest(double q, double s) {
        if (!(Math.abs(s) < Double.MAX_VALUE)) {
            return;
        }
        restCount++;
        // A plain mean at first, a lag later; squares are cut so that handling does not teach unrest.
        double share = restCount > longRest ? restShare : Math.max(1.0 / restCount, restShare);
        if (restCount >= enoughRest) {
            restQuick = next(restQuick, q, share);
            restSlow = next(restSlow, s, share);
        } else {
            restQuick += share * (q * q - restQuick);
            restSlow += share * (s * s - restSlow);
        }
    }

    /** Tells whether rest is known so long that {@link #next} with {@link #restShare} is all there is to do for it. */
    boolean longKnown() {
        return restCount >= Math.max(longRest, enoughRest);
    }

    double restShare() {
        return restShare;
    }

    double restQuick() {
        return restQuick;
    }

    double restSlow() {
        return restSlow;
    }

    /** Goes on from what {@link #next} gave. */
    void set(double newQuick, double newSlow) {
        restQuick = newQuick;
        restSlow = newSlow;
    }

    /** Returns a mean square after one more difference; of its arguments alone. */
    static double next(double meanSquare, double difference, double share) {
        double square = difference * difference;
        double most = CUT * meanSquare;
        return meanSquare + share * ((square > most ? most : square) - meanSquare);
    }

    /** A window opens. */
    void open(long nowNs) {
        blockNs = nowNs;
        clearBlock();
        clearTotals();
    }

    /** Takes the newest smoothed sample of an open window; tells at the end of a block whether the window is still. */
    boolean active(long nowNs, double heightN) {
        boolean still = false;
        if (nowNs - blockNs >= BLOCK_NS) {
            still = endBlock();
            blockNs = nowNs;
            clearBlock();
        }
        double q = smoother.difference(quick);
        double s = smoother.difference(slow);
        if (Math.abs(s) < Double.MAX_VALUE) {
            blockCount++;
            blockQuick += q * q;
            blockSlow += s * s;
            blockHeight += heightN;
        }
        return still;
    }

    /** Returns the time from which on {@link #active} may tell that the window is still. */
    long blockEndNs() {
        return blockNs + BLOCK_NS;
    }

    /**
     * Takes the newest smoothed samples of an open window like {@link #active}, one after the other.
     *
     * @param from the first one to take; none may be nearer to a gap than {@link #lag}, nor be due at {@link #blockEndNs}.
     * @param restN what heights are above.
     */
    void follow(long from, double restN) {
        double[] ring = smoother.means().forceRing();
        int at = (int) from;
        int count = (int) (smoother.means().end() - from);
        int taken = 0;
        double quickSum = blockQuick;
        double slowSum = blockSlow;
        double heightSum = blockHeight;
        for (int k = 0; k < count; k++) {
            double meanN = ring[(at + k) & (ring.length - 1)];
            double q = meanN - ring[(at + k - quick) & (ring.length - 1)];
            double s = meanN - ring[(at + k - slow) & (ring.length - 1)];
            if (Math.abs(s) < Double.MAX_VALUE) {
                taken++;
                quickSum += q * q;
                slowSum += s * s;
                heightSum += meanN - restN;
            }
        }
        blockCount += taken;
        blockQuick = quickSum;
        blockSlow = slowSum;
        blockHeight = heightSum;
    }

    /** Returns for how long the window has been still enough to be gathered, in seconds. */
    double gatheredS() {
        return count * periodS;
    }

    /** Returns the mean height while it has been still. */
    double heightN() {
        return sumHeight / count;
    }

    /** Returns the highest mean height over a block: what a knock hardly moves and an effort on top of a weight does. */
    double highestN() {
        return highestN;
    }

    private boolean endBlock() {
        if (blockCount == 0 || restCount < enoughRest) {
            return false;
        }
        double tremor = TREMOR_SHARE * blockHeight / blockCount;
        highestN = Math.max(highestN, blockHeight / blockCount);
        if (blockQuick / blockCount > RESTLESS * restQuick + tremor * tremor / 2) {
            restlessBlocks++;
            afterRestless = true;
            return false;
        }
        stillBlocks++;
        count += blockCount;
        sumQuick += blockQuick;
        sumHeight += blockHeight;
        if (afterRestless) {
            afterRestless = false;
            return false; // Over 0.6 s this block still looks back into the rise or the knock.
        }
        slowCount += blockCount;
        sumSlow += blockSlow;
        return stillBlocks >= 2 * restlessBlocks && judge();
    }

    private boolean judge() {
        double height = heightN();
        double tremor = TREMOR_SHARE * height;
        double independent = count / (double) smoother.width();
        double deviation = restQuick * Math.sqrt(2 / independent);
        // Much less unrest than at rest is chance and says nothing more.
        double excess = Math.max(-deviation, sumQuick / count - restQuick) + SURE * deviation;
        double wavering = sumSlow / slowCount;
        double allowed = Math.max(SLOW_RATIO * SLOW_RATIO * restSlow, SLOW_SHARE * SLOW_SHARE * height * height);
        return excess < tremor * tremor / 2 && wavering <= allowed;
    }

    private void clearBlock() {
        blockCount = 0;
        blockQuick = 0;
        blockSlow = 0;
        blockHeight = 0;
    }

    private void clearTotals() {
        count = 0;
        slowCount = 0;
        sumQuick = 0;
        sumSlow = 0;
        sumHeight = 0;
        highestN = 0;
        stillBlocks = 0;
        restlessBlocks = 0;
        afterRestless = true;
    }
}
