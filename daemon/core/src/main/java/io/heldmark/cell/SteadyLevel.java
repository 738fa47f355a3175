package io.heldmark.cell;

/**
 * The newest stretch of a cell's counts, and whether it stands still.
 *
 * <p><b>Still.</b> The means of eight equal parts lie within the largest of: what white noise explains (6 SD / sqrt(n) of a part;
 * the range of eight normal means exceeds that once in 1,700 times, scipy.stats.studentized_range.sf(6, 8, 1e6)), one count, and the tolerance. Where no tolerance is known, one SD
 * of a sample stands in. The SD of a sample is that within the parts, so that slow movement does not excuse itself. Common
 * practice, no published source.
 *
 * @param meanCounts mean of the stretch.
 * @param sdCounts standard deviation of its samples about it.
 * @param samples how many samples.
 * @param seconds how long it is.
 * @param still whether it stands still.
 * @param stillS for how many whole seconds the means of seconds before have been within the same limit of it.
 * @param overloaded whether the converter reached the end of its range within it.
 */
public record SteadyLevel(
        double meanCounts,
        double sdCounts,
        int samples,
        double seconds,
        boolean still,
        int stillS,
        boolean overloaded) {
    private static final int PARTS = 8;
    private static final double NOISE = 6;

    /**
     * Judges a stretch.
     *
     * @param x its counts, at least two in each of eight parts.
     * @param rateHz sample rate.
     * @param secondMeans means of the seconds so far, the newest last.
     * @param toleranceCounts movement that does not matter; NaN where unknown.
     * @param overloaded whether the converter reached the end of its range within it.
     */
    static SteadyLevel of(double[] x, double rateHz, double[] secondMeans, double toleranceCounts, boolean overloaded) {
        int n = x.length;
        int part = n / PARTS;
        double mean = mean(x, 0, n);
        double low = Double.POSITIVE_INFINITY;
        double high = Double.NEGATIVE_INFINITY;
        double within = 0;
        double squares = 0;
        for (int p = 0; p < PARTS; p++) {
            int from = n - (PARTS - p) * part;
            double own = mean(x, from, from + part);
            low = Math.min(low, own);
            high = Math.max(high, own);
            for (int i = from; i < from + part; i++) {
                within += (x[i] - own) * (x[i] - own);
            }
        }
        for (double one : x) {
            squares += (one - mean) * (one - mean);
        }
        double sdWithin = Math.sqrt(within / (PARTS * (part - 1.0)));
        double allowed = Double.isNaN(toleranceCounts) ? sdWithin : toleranceCounts;
        double limit = Math.max(allowed, Math.max(1, NOISE * sdWithin / Math.sqrt(part)));
        boolean still = high - low <= limit;
        int seconds = still ? stillSeconds(secondMeans, mean, limit) : 0;
        return new SteadyLevel(mean, Math.sqrt(squares / (n - 1)), n, n / rateHz, still, seconds, overloaded);
    }

    /** Returns the fewest samples that can be judged. */
    static int fewest() {
        return 2 * PARTS;
    }

    private static int stillSeconds(double[] means, double level, double limit) {
        int n = 0;
        while (n < means.length && Math.abs(means[means.length - 1 - n] - level) <= limit) {
            n++;
        }
        return n;
    }

    private static double mean(double[] x, int from, int to) {
        double sum = 0;
        for (int i = from; i < to; i++) {
            sum += x[i];
        }
        return sum / (to - from);
    }
}
