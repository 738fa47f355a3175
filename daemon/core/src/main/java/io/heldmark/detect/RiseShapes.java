package io.heldmark.detect;

/**
 * The ways in which a trace may leave a level: 0 at the moment it leaves, 1 at the end of the stretch looked at.
 *
 * <p><b>Shapes.</b> With x from 0 to 1 between those two: x^p with p of 1, 1.5, 2, 2.5 and 3, and the growth (e^(kx) - 1) /
 * (e^k - 1) with k of 1 and 2, of which the first five terms are taken; each alone, and each with a second term x times itself that
 * bends it. A straight line, the beginning of an exponential, of half a cosine, of a movement of least jerk and of a logistic curve
 * cut at its foot are among them or near to them, so that none of these courses is favoured.
 *
 * <p><b>Use.</b> {@link #sum} for the points after a moment, then the sums of one shape with {@link #select}.
 *
 * <p><b>Cost.</b> Whole powers by {@link PowerSums}; only powers with a half are summed point by point.
 */
final class RiseShapes {
    /** Number of shapes, not counting the second term. */
    static final int COUNT = 7;

    private static final int POWERS = 5;
    private static final int TERMS = 5;
    private static final int HIGHEST = 2 * (TERMS + 1); // The square of x times a growth.
    private static final double[][] GROWTH = {growth(1), growth(2)};
    private static final double[][] GROWTH_SQUARED = {squared(GROWTH[0]), squared(GROWTH[1])};
    private static final double[] END_SLOPES = endSlopes();

    private final double weight;
    private final double[] y;
    private final double[] distances; // Of each point from the last.
    private final double[] x;
    private final double[] roots; // x^(3/2).
    private final PowerSums points;
    private final PowerSums values;

    private double[] whole = {}; // Sums of x^q.
    private double[] wholeY = {}; // The same times the value.
    private final double[] halves = new double[4]; // Sums of x^(q + 1/2).
    private final double[] halvesY = new double[4];

    /** Sums of the selected shape g and its second term h, and of their products with each other and the value y. */
    double g;

    double gg;
    double gy;
    double h;
    double hh;
    double hy;
    double gh;

    /**
     * Makes the sums of points.
     *
     * @param t their times, increasing.
     * @param y their values.
     * @param weight how often each point counts.
     */
    RiseShapes(double[] t, double[] y, double weight) {
        int n = t.length;
        this.y = y;
        this.weight = weight;
        distances = new double[n];
        x = new double[n];
        roots = new double[n];
        double[] weights = new double[n];
        double[] weighted = new double[n];
        for (int i = 0; i < n; i++) {
            distances[i] = t[n - 1] - t[i];
            weights[i] = weight;
            weighted[i] = weight * y[i];
        }
        points = new PowerSums(distances, weights, HIGHEST);
        values = new PowerSums(distances, weighted, HIGHEST / 2);
    }

    /**
     * Sums up the points after a moment.
     *
     * @param spanS from the moment to the last point; x is 0 there and 1 at that point.
     * @param first index of the first point after the moment.
     */
    void sum(double spanS, int first) {
        double perSpan = 1 / spanS;
        whole = points.of(first, perSpan);
        wholeY = values.of(first, perSpan);
        for (int i = first; i < x.length; i++) {
            double v = 1 - distances[i] * perSpan;
            x[i] = v;
            roots[i] = weight * v * Math.sqrt(Math.abs(v)); // Under 0 by rounding alone.
        }
        sumHalves(first, x.length);
    }

    /** The running sums are local variables, for these need not go through memory at each point. */
    private void sumHalves(int from, int to) {
        double s1 = 0;
        double s2 = 0;
        double s3 = 0;
        double y1 = 0;
        double y2 = 0;
        double y3 = 0;
        for (int i = from; i < to; i++) {
            double half = roots[i];
            s1 += half;
            y1 += half * y[i];
            half *= x[i];
            s2 += half;
            y2 += half * y[i];
            half *= x[i];
            s3 += half;
            y3 += half * y[i];
        }
        put(halves, s1, s2, s3);
        put(halvesY, y1, y2, y3);
    }

    private static void put(double[] sums, double first, double second, double third) {
        sums[1] = first;
        sums[2] = second;
        sums[3] = third;
    }

    /** Selects a shape. */
    void select(int shape) {
        if (shape < POWERS) {
            // x^p with 2p = shape + 2; x^(2p), x^(2p+1) and x^(2p+2) are whole powers.
            int twice = shape + 2;
            g = of(whole, halves, twice);
            gg = whole[twice];
            gy = of(wholeY, halvesY, twice);
            h = of(whole, halves, twice + 2);
            hh = whole[twice + 2];
            hy = of(wholeY, halvesY, twice + 2);
            gh = whole[twice + 1];
        } else {
            selectGrowth(GROWTH[shape - POWERS], GROWTH_SQUARED[shape - POWERS]);
        }
    }

    private void selectGrowth(double[] terms, double[] squares) {
        g = 0;
        gy = 0;
        h = 0;
        hy = 0;
        for (int i = 0; i < TERMS; i++) {
            g += terms[i] * whole[i + 1];
            gy += terms[i] * wholeY[i + 1];
            h += terms[i] * whole[i + 2];
            hy += terms[i] * wholeY[i + 2];
        }
        gg = 0;
        gh = 0;
        hh = 0;
        for (int i = 0; i < squares.length; i++) {
            gg += squares[i] * whole[i + 2];
            gh += squares[i] * whole[i + 3];
            hh += squares[i] * whole[i + 4];
        }
    }

    /** Sum of x^(twice / 2). */
    private static double of(double[] whole, double[] halves, int twice) {
        return twice % 2 == 0 ? whole[twice / 2] : halves[twice / 2];
    }

    /** Returns the slope of a shape at x = 1. */
    static double endSlope(int shape) {
        return END_SLOPES[shape];
    }

    private static double[] endSlopes() {
        double[] slopes = new double[COUNT];
        for (int shape = 0; shape < COUNT; shape++) {
            slopes[shape] = slopeAtEnd(shape);
        }
        return slopes;
    }

    private static double slopeAtEnd(int shape) {
        if (shape < POWERS) {
            return (shape + 2) / 2.0;
        }
        double slope = 0;
        for (int i = 0; i < TERMS; i++) {
            slope += (i + 1) * GROWTH[shape - POWERS][i];
        }
        return slope;
    }

    /** Factors of x, x^2, ... in a growth, of which the sum is 1. */
    private static double[] growth(double k) {
        double[] factors = new double[TERMS];
        double whole = 0;
        double factor = 1;
        for (int i = 0; i < TERMS; i++) {
            factor *= k / (i + 1);
            factors[i] = factor;
            whole += factor;
        }
        for (int i = 0; i < TERMS; i++) {
            factors[i] /= whole;
        }
        return factors;
    }

    /** Factors of x^2, x^3, ... in the square. */
    private static double[] squared(double[] factors) {
        double[] squares = new double[2 * TERMS - 1];
        for (int i = 0; i < TERMS; i++) {
            for (int j = 0; j < TERMS; j++) {
                squares[i + j] += factors[i] * factors[j];
            }
        }
        return squares;
    }
}
