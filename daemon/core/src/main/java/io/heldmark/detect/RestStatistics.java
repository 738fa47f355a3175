package io.heldmark.detect;

/**
 * Level, scatter and correlation of a quiet stretch.
 *
 * <p><b>Formulas.</b> Level: mean. Noise: standard deviation about the least-squares line, divisor n - 2. Correlation: 1 + 2
 * sum of rho_k over k = 1, 2, ... until rho_k is first not above 2 / sqrt(n), and at most n / 4 (the integrated
 * autocorrelation, cut where it can no longer be told from nothing).
 *
 * <p><b>Degenerate.</b> Fewer than 4 samples: noise 0, correlation 1.
 *
 * <p><b>Source.</b> Variance of the mean of correlated samples: Bayley and Hammersley 1946 (from memory); the cut is common
 * practice.
 *
 * @param levelN mean.
 * @param noiseN standard deviation of single samples about the line.
 * @param correlationSamples successive samples that count as one independent sample, at least 1.
 * @param samples number of samples.
 * @param slopeNPerS slope of the line.
 * @param slopeUNPerS its standard uncertainty.
 */
record RestStatistics(
        double levelN, double noiseN, double correlationSamples, int samples, double slopeNPerS, double slopeUNPerS) {
    private static final double CLEAR = 4; // A slope of that many uncertainties is one.

    RestStatistics(double levelN, double noiseN, double correlationSamples, int samples) {
        this(levelN, noiseN, correlationSamples, samples, 0, 0);
    }

    /** Returns the slope where it stands out of its uncertainty, else 0. */
    double clearSlopeNPerS() {
        return Math.abs(slopeNPerS) > CLEAR * slopeUNPerS ? slopeNPerS : 0;
    }

    /** Computes them over samples from, inclusive, to, exclusive. */
    static RestStatistics of(Segment segment, int from, int to) {
        int n = to - from;
        if (n < 4) {
            double level = n > 0 ? segment.meanN(from, to) : 0;
            return new RestStatistics(level, 0, 1, Math.max(0, n));
        }
        double slope = slope(segment, from, n); // Per sample.
        double[] residual = residuals(segment, from, n, slope);
        double squared = 0;
        for (double r : residual) {
            squared += r * r;
        }
        double noise = Math.sqrt(squared / (n - 2));
        double correlation = correlation(residual, squared);
        double perS = (n - 1) / (segment.timeS(from + n - 1) - segment.timeS(from));
        double slopeU = noise * Math.sqrt(12 * correlation / n) / n;
        return new RestStatistics(segment.meanN(from, to), noise, correlation, n, slope * perS, slopeU * perS);
    }

    /** Tells whether the second half of what they are of lies elsewhere than the first: by over 1 N and more than noise explains. */
    boolean unstable(Segment segment, int from, int to) {
        if (samples < 8) {
            return false;
        }
        int middle = (from + to) / 2;
        double shift = Math.abs(segment.meanN(middle, to) - segment.meanN(from, middle));
        double explained = noiseN * Math.sqrt(2 * correlationSamples / (middle - from));
        return shift > Math.max(1, 4 * explained);
    }

    private static double slope(Segment segment, int from, int n) {
        double mean = segment.meanN(from, from + n);
        double middle = (n - 1) / 2.0;
        double xy = 0;
        double xx = 0;
        double x = 0 - middle; // Counted along, which is exact here and needs no conversion.
        for (int i = 0; i < n; i++) {
            xy += x * (segment.forceN(from + i) - mean);
            xx += x * x;
            x += 1;
        }
        return xy / xx;
    }

    private static double[] residuals(Segment segment, int from, int n, double slope) {
        double mean = segment.meanN(from, from + n);
        double[] residual = new double[n];
        double x = 0 - (n - 1) / 2.0;
        for (int i = 0; i < n; i++) {
            residual[i] = segment.forceN(from + i) - mean - slope * x;
            x += 1;
        }
        return residual;
    }

    private static double correlation(double[] r, double squared) {
        if (!(squared > 0)) {
            return 1;
        }
        double least = 2 / Math.sqrt(r.length);
        double sum = 1;
        for (int k = 1; k <= r.length / 4; k++) {
            double product = 0;
            for (int i = k; i < r.length; i++) {
                product += r[i] * r[i - k];
            }
            double rho = product / squared;
            if (rho <= least) {
                break;
            }
            sum += 2 * rho;
        }
        return sum;
    }
}
