package io.heldmark.metric;

import io.heldmark.model.ContractionFlag;
import io.heldmark.model.Window;
import java.util.Arrays;

/**
 * A countermovement: the force dips right before it rises. Finer than what the detector needs to know for its boundaries, for even
 * a dip of a hundredth of the peak means that the muscle did not begin from rest.
 *
 * <p><b>Method.</b> Means over 20 ms. Level and scatter from 0.6 to 0.3 s before the onset (median, and median of the distances
 * from it, at least what the scatter of their single samples makes of such a mean); the dip is the lowest mean from there to the onset.
 *
 * <p><b>Degenerate.</b> Fewer than eight means before, samples missing among them: nothing is said.
 *
 * <p><b>Source.</b> Common practice (a dip of that order spoils a rate of force development): Maffiuletti et al. 2016, Eur J Appl
 * Physiol 116:1091-1116, from memory.
 */
final class Dip implements QualityCheck {
    private static final double FROM_S = 0.6;
    private static final double LEVEL_S = 0.3;
    private static final double LEAST_N = 1;
    private static final double SCATTERS = 5;
    private static final double SD_PER_DISTANCE = 1.4826; // Of a normal distribution.
    private static final int LEAST_BLOCKS = 8;
    private static final double LEAST_SAMPLES = 3;

    @Override
    public ContractionFlag flag() {
        return ContractionFlag.COUNTERMOVEMENT;
    }

    @Override
    public String rule() {
        return "A 20-ms mean of the last 0.3 s before the onset lies below the level of the 0.3 s before by more than 1 N and 5 SD"
                + " of such means; or the detector saw a dip of 2 % of the peak.";
    }

    @Override
    public boolean raisedBy(Hold hold) {
        return hold.window().dipped();
    }

    /** Tells whether the force dipped right before the onset. */
    static boolean before(Window w) {
        double blockS = Math.max(Hold.BLOCK_S, 1 / w.sampleRateHz());
        int blocks = (int) Math.round(FROM_S / blockS);
        int[] edges = edges(w, blocks, blockS);
        double[] mean = means(w, edges, blockS);
        int level = (int) Math.round(LEVEL_S / blockS);
        double[] quiet = Arrays.copyOf(mean, level);
        for (double m : mean) {
            if (Double.isNaN(m)) {
                return false;
            }
        }
        if (level < LEAST_BLOCKS) {
            return false;
        }
        double levelN = median(quiet);
        double lowestN = Double.POSITIVE_INFINITY;
        for (int b = level; b < blocks; b++) {
            lowestN = Math.min(lowestN, mean[b]);
        }
        double scatterN = SD_PER_DISTANCE
                * median(Arrays.stream(quiet).map(m -> Math.abs(m - levelN)).toArray());
        double steadiest = Math.max(
                scatterN, noiseN(w, mean, edges, level)); // Fifteen means scatter too little by chance at times.
        return levelN - lowestN > Math.max(LEAST_N, SCATTERS * steadiest);
    }

    /**
     * Returns what the scatter of single samples about their block's mean makes of such a mean, in the quiet blocks alone: the
     * rest right before the onset has the dip in it. 0 where blocks are of one or two samples.
     */
    private static double noiseN(Window w, double[] mean, int[] edges, int level) {
        double squares = 0;
        int n = 0;
        for (int b = level - 1; b >= 0; b--) {
            for (int i = edges[b + 1] - 1; i >= edges[b]; i--) {
                double apart = w.forceN(i) - mean[b];
                squares += apart * apart;
                n++;
            }
        }
        double perBlock = (double) n / level;
        return perBlock < LEAST_SAMPLES ? 0 : Math.sqrt(squares / (n - level) / perBlock);
    }

    /** Returns the block of a sample, by time; under 0 for what lies before all of them. */
    private static int block(Window w, int index, int blocks, double blockS) {
        int back = (int) Math.floor((w.onsetNs() - w.timeNs(index)) * 1e-9 / blockS);
        return blocks - 1 - Math.max(0, back);
    }

    /** Returns the index of each block's first sample and, as the last, that after the newest; a guess saves looking at each. */
    private static int[] edges(Window w, int blocks, double blockS) {
        int[] edges = new int[blocks + 1];
        edges[blocks] = Math.min(w.onsetIndex(), w.size());
        int guess = (int) (blockS * w.sampleRateHz());
        for (int b = blocks - 1; b >= 0; b--) {
            int i = Math.max(0, edges[b + 1] - guess);
            while (i < edges[b + 1] && block(w, i, blocks, blockS) < b) {
                i++;
            }
            while (i > 0 && block(w, i - 1, blocks, blockS) >= b) {
                i--;
            }
            edges[b] = i;
        }
        return edges;
    }

    /** Means of the blocks before the onset, by time; NaN where fewer than half of the samples are there. */
    private static double[] means(Window w, int[] edges, double blockS) {
        double[] means = new double[edges.length - 1];
        for (int b = 0; b < means.length; b++) {
            double sum = 0;
            for (int i = edges[b + 1] - 1; i >= edges[b]; i--) {
                sum += w.forceN(i);
            }
            int n = edges[b + 1] - edges[b];
            means[b] = n > 0 && n >= blockS * w.sampleRateHz() / 2 ? sum / n : Double.NaN;
        }
        return means;
    }

    private static double median(double[] values) {
        double[] sorted = values.clone();
        Arrays.sort(sorted);
        return sorted[sorted.length / 2];
    }
}
