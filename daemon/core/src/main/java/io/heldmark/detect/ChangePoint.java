package io.heldmark.detect;

/**
 * The moment at which a trace leaves a constant level in the manner of a power of time.
 *
 * <p><b>Model.</b> y = c for t &lt;= tau and y = c + a (t - tau)^p after it, p one of 1, 1.5, 2, 2.5, a of the given sign; least
 * squares over c, a, p and tau. For given p and tau the model is linear, so c and a are solved and tau is searched over
 * the samples and the middles between them, then refined by a parabola through the best three.
 *
 * <p><b>Uncertainty.</b> A quarter of the width of the range of tau, over all p, whose sum of squares lies within 4 *
 * correlation * s^2 of the least one, s^2 = least / (n - 4): the profile-likelihood interval of two standard deviations,
 * widened where successive samples are correlated. Two, because at one the other shapes p often just drop out. Not less than the sampling: period / sqrt(12).
 *
 * <p><b>Degenerate.</b> Fewer than 6 points, or no tau with the right sign of a: {@link #found()} is false.
 *
 * <p><b>Cost.</b> O(n^2); callers keep n within some hundred points.
 *
 * <p><b>Source.</b> Segmented least squares as commonly used for onsets; profile likelihood: e.g. Venzon and Moolgavkar
 * 1988, Applied Statistics 37:87-94 (from memory). Evidence in {@code docs/detection.md}.
 */
final class ChangePoint {
    private static final double[] POWERS = {1, 1.5, 2, 2.5};

    private final double[] timeS;
    private final double[] y;
    private final int n;
    private final double sign;
    private final double spanS;
    private double sumY;
    private double sumYY;
    private double level; // Of the model that was solved last, about the first value.

    private boolean found;
    private double tauS;
    private double levelN;
    private double standardUncertaintyS;

    /**
     * Fits the model.
     *
     * @param timeS rising times, in seconds.
     * @param valueN values.
     * @param n points to use, from index 0.
     * @param upwards whether the trace leaves upwards.
     * @param correlationSamples successive points that count as one, at least 1.
     */
    ChangePoint(double[] timeS, double[] valueN, int n, boolean upwards, double correlationSamples) {
        this.timeS = timeS;
        this.n = n;
        sign = upwards ? 1 : -1;
        y = new double[n];
        spanS = n > 1 ? timeS[n - 1] - timeS[0] : 0;
        if (n >= 6 && spanS > 0) {
            for (int i = 0; i < n; i++) {
                y[i] = valueN[i] - valueN[0]; // Sums about a nearby value keep their digits.
                sumY += y[i];
                sumYY += y[i] * y[i];
            }
            search(valueN[0], correlationSamples);
        }
    }

    boolean found() {
        return found;
    }

    /** Returns the moment, in seconds on the axis of the times. */
    double tauS() {
        return tauS;
    }

    /** Returns the level before it. */
    double levelN() {
        return levelN;
    }

    double standardUncertaintyS() {
        return standardUncertaintyS;
    }

    private void search(double originN, double correlationSamples) {
        int steps = 2 * (n - 3);
        double[][] squares = new double[POWERS.length][steps];
        double least = Double.POSITIVE_INFINITY;
        int bestPower = 0;
        int bestStep = 0;
        for (int p = 0; p < POWERS.length; p++) {
            for (int k = 0; k < steps; k++) {
                squares[p][k] = squares(POWERS[p], tau(k), k / 2 + 1);
                if (squares[p][k] < least) {
                    least = squares[p][k];
                    bestPower = p;
                    bestStep = k;
                }
            }
        }
        if (least == Double.POSITIVE_INFINITY) {
            return;
        }
        found = true;
        tauS = refined(squares[bestPower], bestStep);
        double allowed = least + 4 * correlationSamples * least / Math.max(1, n - 4);
        standardUncertaintyS = spread(squares, allowed);
        squares(POWERS[bestPower], tau(bestStep), bestStep / 2 + 1);
        levelN = originN + level;
    }

    private double tau(int step) {
        int i = step / 2;
        return step % 2 == 0 ? timeS[i] : (timeS[i] + timeS[i + 1]) / 2;
    }

    /** Residual sum of squares for a power and a moment before index {@code from}; infinite for the wrong sign. */
    private double squares(double power, double tau, int from) {
        double g1 = 0;
        double g2 = 0;
        double gy = 0;
        for (int i = from; i < n; i++) {
            double g = power((timeS[i] - tau) / spanS, power);
            g1 += g;
            g2 += g * g;
            gy += g * y[i];
        }
        double determinant = n * g2 - g1 * g1;
        double a = (n * gy - g1 * sumY) / determinant;
        if (!(a * sign > 0)) {
            return Double.POSITIVE_INFINITY;
        }
        level = (sumY - a * g1) / n;
        return Math.max(0, sumYY - level * sumY - a * gy);
    }

    private static double power(double x, double power) {
        double root = Math.sqrt(x);
        if (power == 1) {
            return x;
        }
        if (power == 1.5) {
            return x * root;
        }
        return power == 2 ? x * x : x * x * root;
    }

    private double refined(double[] squares, int k) {
        if (k == 0 || k == squares.length - 1) {
            return tau(k);
        }
        double before = squares[k - 1];
        double after = squares[k + 1];
        double curvature = before - 2 * squares[k] + after;
        if (!(curvature > 0) || Double.isInfinite(curvature)) {
            return tau(k);
        }
        double shift = Math.max(-1, Math.min(1, (before - after) / (2 * curvature)));
        return tau(k) + shift * (shift < 0 ? tau(k) - tau(k - 1) : tau(k + 1) - tau(k));
    }

    private double spread(double[][] squares, double allowed) {
        double from = tauS;
        double to = tauS;
        for (double[] ofPower : squares) {
            for (int k = 0; k < ofPower.length; k++) {
                if (ofPower[k] <= allowed) {
                    from = Math.min(from, tau(k));
                    to = Math.max(to, tau(k));
                }
            }
        }
        double one = (to - from) / 4;
        double sampling = spanS / (n - 1);
        return Math.sqrt(one * one + sampling * sampling / 12);
    }
}
