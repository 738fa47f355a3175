package io.heldmark.cell;

/**
 * Straight line through evenly spaced values, by least squares.
 *
 * <p><b>Formula.</b> With i the index and its mean c = (n - 1) / 2: slope = sum (i - c)(y - mean) / sum (i - c)^2.
 *
 * @param mean mean of the values.
 * @param centre index at which the line passes through the mean.
 * @param slope change from one value to the next; NaN for fewer than two.
 * @param explained share of the variance that the line explains, 0 to 1; 0 where there is none.
 */
record StraightLine(double mean, double centre, double slope, double explained) {
    /** Lays the line through values. */
    static StraightLine through(double[] y) {
        double mean = 0;
        for (double one : y) {
            mean += one;
        }
        mean /= y.length;
        double centre = (y.length - 1) / 2.0;
        double xy = 0;
        double xx = 0;
        double yy = 0;
        for (int i = 0; i < y.length; i++) {
            double x = i - centre;
            double above = y[i] - mean;
            xy += x * above;
            xx += x * x;
            yy += above * above;
        }
        return new StraightLine(mean, centre, xy / xx, yy > 0 ? xy * xy / (xx * yy) : 0);
    }

    /** Returns how far a value lies above the line. */
    double residual(int index, double value) {
        return value - mean - slope * (index - centre);
    }
}
