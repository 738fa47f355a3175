package io.heldmark.importer;

/**
 * Four successive blocks of 50 ms of a trace: whether they are quiet, and their level.
 *
 * <p><b>Rule.</b> Quiet are blocks of at least two samples each whose standard deviation (of single samples about their
 * block's mean) is at most 8 N and whose means differ by at most 2 N + 4 s / sqrt(n), s that deviation and n the samples of
 * a block: the limits of the session zero, over a shorter time.
 *
 * <p><b>Uncertainty.</b> Of the mean of all: the larger of s / sqrt(4 n) and the scatter of the block means over sqrt(4)
 * (batch means; GUM, JCGM 100:2008, 4.2.3).
 *
 * <p><b>Source.</b> Common practice, no published source.
 */
final class QuietBlocks {
    static final int BLOCKS = 4;
    static final long BLOCK_NS = 50_000_000L;
    private static final double LIMIT_SD_N = 8;
    private static final double LIMIT_WANDER_N = 2;

    private final int[] counts = new int[BLOCKS];
    private final double[] sums = new double[BLOCKS];
    private final double[] squares = new double[BLOCKS];
    private double originN;
    private int total;
    private double meanN;
    private double withinSdN;
    private double betweenSdN;

    /** Empties all blocks; sums are taken about a nearby value, which keeps all digits. */
    void clear(double nearbyN) {
        originN = nearbyN;
        for (int block = 0; block < BLOCKS; block++) {
            clearBlock(block);
        }
    }

    /** Empties one block. */
    void clearBlock(int block) {
        counts[block] = 0;
        sums[block] = 0;
        squares[block] = 0;
    }

    void add(int block, double forceN) {
        double d = forceN - originN;
        counts[block]++;
        sums[block] += d;
        squares[block] += d * d;
    }

    /** Sums the blocks up; tells whether they are quiet. */
    boolean isQuiet() {
        total = 0;
        double sum = 0;
        double within = 0;
        double least = Double.POSITIVE_INFINITY;
        double most = Double.NEGATIVE_INFINITY;
        for (int b = 0; b < BLOCKS; b++) {
            if (counts[b] < 2) {
                return false;
            }
            double mean = sums[b] / counts[b];
            total += counts[b];
            sum += sums[b];
            within += Math.max(0, squares[b] - sums[b] * mean);
            least = Math.min(least, mean);
            most = Math.max(most, mean);
        }
        double mean = sum / total;
        meanN = originN + mean;
        withinSdN = Math.sqrt(within / (total - BLOCKS));
        betweenSdN = betweenSd(mean);
        double explained = 4 * withinSdN / Math.sqrt((double) total / BLOCKS);
        return withinSdN <= LIMIT_SD_N && most - least <= LIMIT_WANDER_N + explained;
    }

    private double betweenSd(double mean) {
        double squared = 0;
        for (int b = 0; b < BLOCKS; b++) {
            double d = sums[b] / counts[b] - mean;
            squared += d * d;
        }
        return Math.sqrt(squared / (BLOCKS - 1));
    }

    double meanN() {
        return meanN;
    }

    double standardUncertaintyN() {
        return Math.max(withinSdN / Math.sqrt(total), betweenSdN / Math.sqrt(BLOCKS));
    }
}
