package io.heldmark.cell;

import java.util.ArrayList;
import java.util.List;

/**
 * Slow change of a cell that nobody touches.
 *
 * @param seconds seconds that it was watched for.
 * @param countsPerMinute slope of the straight line through the means of its seconds; NaN before ten of them.
 * @param explained share of the variance of the means that the line explains, 0 to 1: small where the cell was loaded.
 * @param rangeCounts highest less lowest of the means.
 * @param means the means, evenly thinned to at most 300, the newest last.
 * @param stepS seconds between two of them.
 */
public record Drift(
        int seconds, double countsPerMinute, double explained, double rangeCounts, List<Double> means, int stepS) {
    private static final int FEWEST = 10;
    private static final int SHOWN = 300;

    /** Takes the drift from one mean a second. */
    static Drift of(double[] secondMeans) {
        int n = secondMeans.length;
        StraightLine line = StraightLine.through(secondMeans);
        double low = Double.POSITIVE_INFINITY;
        double high = Double.NEGATIVE_INFINITY;
        for (double one : secondMeans) {
            low = Math.min(low, one);
            high = Math.max(high, one);
        }
        int step = Math.max(1, (n + SHOWN - 1) / SHOWN);
        List<Double> shown = new ArrayList<>();
        for (int i = (n - 1) % step; i < n; i += step) {
            shown.add(secondMeans[i]);
        }
        double aMinute = n < FEWEST ? Double.NaN : 60 * line.slope();
        return new Drift(n, aMinute, line.explained(), n == 0 ? 0 : high - low, shown, step);
    }
}
