package io.heldmark.metric;

import io.heldmark.model.MetricValue;
import io.heldmark.model.Window;
import java.util.Arrays;
import java.util.List;

/**
 * A contraction as quality checks see it: means over 20 ms from onset to offset, heights above the resting level.
 *
 * <p>A block with fewer than half of its samples is left out and breaks the contraction; nothing is filled in.
 */
final class Hold {
    /** Length of a block, in seconds. */
    static final double BLOCK_S = 0.02;

    private static final int PEAK_BLOCKS = 5;

    private final Trace window;
    private final List<MetricValue> values;
    private final double[] heightN;
    private final double peakN;
    private final int release;
    private final double samplesPerBlock;

    /**
     * Makes the blocks.
     *
     * @param finished the finished contraction.
     * @param values its metrics.
     */
    Hold(Window finished, List<MetricValue> values) {
        this(Trace.of(finished), values, finished.offsetNs(), finished.offsetIndex());
    }

    private Hold(Trace window, List<MetricValue> values, long endNs, int lastIndex) {
        this.window = window;
        this.values = values;
        double periodS = 1 / window.sampleRateHz();
        double blockS = Math.max(BLOCK_S, periodS);
        samplesPerBlock = blockS / periodS;
        int n = Math.max(0, (int) Math.ceil((endNs - window.onsetNs()) * 1e-9 / blockS));
        heightN = new double[n];
        int[] count = new int[n];
        int i = window.onsetIndex();
        while (i <= lastIndex) {
            int block = blockOf(window.timeNs(i), blockS);
            double sum = 0;
            int first = i;
            for (int next = afterBlock(i, lastIndex + 1, block, blockS); i < next; i++) {
                sum += window.forceN(i);
            }
            if (block >= 0 && block < n) {
                heightN[block] = sum;
                count[block] = i - first;
            }
        }
        for (int b = 0; b < n; b++) {
            boolean enough = count[b] > 0 && count[b] >= samplesPerBlock / 2;
            heightN[b] = enough ? heightN[b] / count[b] - window.restingLevelN() : Double.NaN;
        }
        peakN = highestMeanN();
        release = (int) Math.min(n, (window.releaseStartNs() - window.onsetNs()) * 1e-9 / blockS);
    }

    /** Returns the same with the samples that are kept after the offset. */
    Hold throughTail() {
        int last = window.size() - 1;
        return new Hold(window, values, window.timeNs(last), last);
    }

    /** Returns the index after the last sample of a block, from its first one, at most an end; a guess saves looking at each. */
    private int afterBlock(int first, int end, int block, double blockS) {
        int next = Math.min(end, first + Math.max(1, (int) samplesPerBlock));
        while (next > first + 1 && blockOf(window.timeNs(next - 1), blockS) != block) {
            next--;
        }
        while (next < end && blockOf(window.timeNs(next), blockS) == block) {
            next++;
        }
        return next;
    }

    private int blockOf(long timeNs, double blockS) {
        return (int) ((timeNs - window.onsetNs()) * 1e-9 / blockS);
    }

    Trace window() {
        return window;
    }

    /** Returns the metrics of the contraction. */
    List<MetricValue> values() {
        return values;
    }

    /** Returns the number of blocks. */
    int size() {
        return heightN.length;
    }

    /** Returns the number of blocks before the release. */
    int release() {
        return release;
    }

    /** Returns the mean height of a block; NaN where samples are missing. */
    double heightN(int block) {
        return heightN[block];
    }

    /** Returns the length of a block, in seconds. */
    double blockS() {
        return samplesPerBlock / window.sampleRateHz();
    }

    /** Returns the highest mean of 100 ms; NaN where there is none. */
    double peakN() {
        return peakN;
    }

    private double highestMeanN() {
        double best = Double.NaN;
        for (int b = 0; b + PEAK_BLOCKS <= heightN.length; b++) {
            double mean = meanN(b);
            best = mean > best || Double.isNaN(best) ? mean : best;
        }
        return best;
    }

    /** Returns the time, in seconds, during which the mean of 100 ms is at least a share of its highest. */
    double timeAboveS(double share) {
        double least = share * peakN;
        int n = 0;
        for (int b = 0; b + PEAK_BLOCKS <= heightN.length; b++) {
            n += meanN(b) >= least ? 1 : 0;
        }
        return n == 0 ? 0 : (n + PEAK_BLOCKS - 1) * blockS();
    }

    /** Returns the first block at least as high as a share of the peak; the size where there is none. */
    int firstAbove(double share) {
        double least = share * peakN;
        for (int b = 0; b < heightN.length; b++) {
            if (heightN[b] >= least) {
                return b;
            }
        }
        return heightN.length;
    }

    /** Returns the median height of blocks from, inclusive, to, exclusive, missing ones left out; NaN for none. */
    double medianN(int from, int to) {
        double[] sorted = new double[heightN.length];
        int n = 0;
        for (int b = Math.max(0, from); b < Math.min(to, heightN.length); b++) {
            sorted[n] = heightN[b];
            n += Double.isNaN(heightN[b]) ? 0 : 1;
        }
        Arrays.sort(sorted, 0, n);
        return n == 0 ? Double.NaN : sorted[n / 2];
    }

    /** Returns the noise of a block, from the rest before the contraction. */
    double blockNoiseN() {
        double independent = Math.max(1, samplesPerBlock / Math.max(1, window.restingCorrelationSamples()));
        return window.restingNoiseN() / Math.sqrt(independent);
    }

    private double meanN(int from) {
        double sum = 0;
        for (int b = from; b < from + PEAK_BLOCKS; b++) {
            sum += heightN[b];
        }
        return sum / PEAK_BLOCKS;
    }
}
