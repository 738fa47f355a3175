package io.heldmark.align;

/**
 * Several measurements of one offset.
 *
 * <p><b>Formula.</b> The plain mean. Its standard uncertainty is {@code max(s, uMean) / sqrt(n)}, s the standard deviation of the
 * offsets, uMean the root mean square of the uncertainties that the taps state (GUM 4.2.3 for the first; the larger of
 * both, because two or three values show little of their scatter).
 *
 * @param count number of taps.
 * @param meanNs mean offset, in nanoseconds; 0 without a tap.
 * @param squaresNs2 sum of the squared deviations from the mean.
 * @param statedNs2 mean of the squared uncertainties of the taps.
 * @param movingNs2 mean of what both clocks' estimates were uncertain by when the taps came, squared.
 */
public record TapSeries(int count, double meanNs, double squaresNs2, double statedNs2, double movingNs2) {
    static final TapSeries NONE = new TapSeries(0, 0, 0, 0, 0);

    TapSeries with(double offsetNs, double standardUncertaintyNs, double movingVarianceNs2) {
        int n = count + 1;
        double deviation = offsetNs - meanNs;
        double mean = meanNs + deviation / n;
        double square = standardUncertaintyNs * standardUncertaintyNs;
        return new TapSeries(
                n,
                mean,
                squaresNs2 + deviation * (offsetNs - mean), // Welford (1962), Technometrics 4(3), 419-420.
                statedNs2 + (square - statedNs2) / n,
                movingNs2 + (movingVarianceNs2 - movingNs2) / n);
    }

    /** Returns the standard deviation of the offsets; NaN below two. */
    public double standardDeviationNs() {
        return count < 2 ? Double.NaN : Math.sqrt(squaresNs2 / (count - 1));
    }

    /** Returns the standard uncertainty of the mean, in nanoseconds; NaN without a tap. */
    public double standardUncertaintyNs() {
        double scatterNs2 = count < 2 ? 0 : squaresNs2 / (count - 1);
        return count == 0 ? Double.NaN : Math.sqrt(Math.max(scatterNs2, statedNs2) / count);
    }
}
