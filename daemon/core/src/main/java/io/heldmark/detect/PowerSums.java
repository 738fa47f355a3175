package io.heldmark.detect;

/**
 * Weighted sums of whole powers of where points lie in a stretch, for one stretch after another that ends at the same point.
 *
 * <p><b>Formula.</b> A point at a distance d from the end lies at x = 1 - d / l in a stretch of length l. The sums of d^j over the
 * points from each one on are worked out once; over l^j they are the sums V_j of v^j, v = 1 - x. As x^q v^j = x^(q-1) v^j -
 * x^(q-1) v^(j+1), the sums of x^q are their q-th differences, each less the one after it. So a stretch costs as much whether it holds
 * few points or many.
 *
 * <p><b>Error.</b> Differences of the 12th order lose less than four of sixteen digits, for 0 <= v <= 1 and the sum holds x = 1.
 */
final class PowerSums {
    private final int highest;
    private final double[]
            sums; // Of d^0 to d^highest for the points from the first on, then for those from the second on, ...
    private final double[] row;
    private final double[] powers;

    /**
     * Adds up.
     *
     * @param distances of the points from the end, decreasing to 0.
     * @param weights of the points.
     * @param highest power; an even number.
     */
    PowerSums(double[] distances, double[] weights, int highest) {
        this.highest = highest;
        int width = highest + 1;
        int last = distances.length * width;
        sums = new double[last + width];
        row = new double[width];
        powers = new double[width];
        for (int i = distances.length - 1; i >= 0; i--) {
            double power = weights[i];
            for (int at = i * width; at < (i + 1) * width; at++) {
                sums[at] = power + sums[at + width];
                power *= distances[i];
            }
        }
    }

    /**
     * Takes a stretch.
     *
     * @param first index of its first point.
     * @param perLength one over its length, in the unit of one over the distances.
     * @return the sums of x^1, x^2, ... at these indices; valid until the next stretch.
     */
    double[] of(int first, double perLength) {
        int at = first * (highest + 1);
        double scale = 1;
        for (int q = 0; q <= highest; q++) {
            row[q] = sums[at + q] * scale;
            scale *= perLength;
        }
        for (int q = 2; q <= highest; q += 2) { // Two differences at once.
            powers[q - 1] = row[0] - row[1];
            for (int j = 0; j <= highest - q; j++) {
                row[j] += row[j + 2] - 2 * row[j + 1];
            }
            powers[q] = row[0];
        }
        return powers;
    }
}
