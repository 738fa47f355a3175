package io.heldmark.detect;

import java.util.Arrays;

/**
 * The ways in which a trace may leave a level: 0 at the moment it leaves, 1 at the end of the stretch looked at.
 *
 * <p><b>Shapes.</b> With x from 0 to 1 between those two: x^p with p of 1, 1.5, 2, 2.5 and 3, and the growth (e^(kx) - 1) /
 * (e^k - 1) with k of 1 and 2; each alone, and each with a second term x times itself that bends it. A straight line, the
 * beginning of an exponential, of half a cosine, of a movement of least jerk and of a logistic curve cut at its foot are
 * among them or near to them, so that none of these courses is favoured.
 *
 * <p><b>Use.</b> {@link #clear}, {@link #add} for each point, then the sums of one shape with {@link
 * #select}. Growth is read from a table of 1024 steps (error below 1e-6).
 */
final class RiseShapes {
    /** Number of shapes, not counting the second term. */
    static final int COUNT = 7;

    private static final int POWERS = 5;
    private static final int STEPS = 1024;
    private static final double[][] GROWTH = {growth(1), growth(2)};
    private static final double[] END_SLOPES = endSlopes();

    private final double[] whole = new double[9]; // Sums of x^q.
    private final double[] halves = new double[5]; // Sums of x^(q - 1/2).
    private final double[] wholeY = new double[5]; // The same times the value.
    private final double[] halvesY = new double[5];
    private final double[][] grown = new double[GROWTH.length][7];

    /** Sums of the selected shape g and its second term h, and of their products with each other and the value y. */
    double g;

    double gg;
    double gy;
    double h;
    double hh;
    double hy;
    double gh;

    void clear() {
        Arrays.fill(whole, 0);
        Arrays.fill(halves, 0);
        Arrays.fill(wholeY, 0);
        Arrays.fill(halvesY, 0);
        for (double[] sums : grown) {
            Arrays.fill(sums, 0);
        }
    }

    /** Adds a point at x, 0 to 1. */
    void add(double x, double y) {
        double power = 1;
        double half = Math.sqrt(x);
        for (int q = 1; q <= 4; q++) {
            power *= x;
            whole[q] += power;
            wholeY[q] += power * y;
            half *= x;
            if (q <= 3) {
                halves[q] += half;
                halvesY[q] += half * y;
            }
        }
        for (int q = 5; q <= 8; q++) {
            power *= x;
            whole[q] += power;
        }
        for (int k = 0; k < GROWTH.length; k++) {
            addGrowth(grown[k], GROWTH[k], x, y);
        }
    }

    private static void addGrowth(double[] sums, double[] table, double x, double y) {
        double position = x * STEPS;
        int i = Math.min(STEPS - 1, (int) position);
        double a = table[i] + (position - i) * (table[i + 1] - table[i]);
        double b = x * a;
        sums[0] += a;
        sums[1] += a * a;
        sums[2] += a * y;
        sums[3] += b;
        sums[4] += b * b;
        sums[5] += b * y;
        sums[6] += a * b;
    }

    /** Selects a shape; each point counts {@code weight} times. */
    void select(int shape, double weight) {
        if (shape < POWERS) {
            // x^p with 2p = shape + 2; x^(2p), x^(2p+1) and x^(2p+2) are whole powers.
            int twice = shape + 2;
            set(of(whole, halves, twice), whole[twice], of(wholeY, halvesY, twice), weight);
            h = of(whole, halves, twice + 2) * weight;
            hh = whole[twice + 2] * weight;
            hy = of(wholeY, halvesY, twice + 2) * weight;
            gh = whole[twice + 1] * weight;
        } else {
            double[] sums = grown[shape - POWERS];
            set(sums[0], sums[1], sums[2], weight);
            h = sums[3] * weight;
            hh = sums[4] * weight;
            hy = sums[5] * weight;
            gh = sums[6] * weight;
        }
    }

    private void set(double sum, double squares, double products, double weight) {
        g = sum * weight;
        gg = squares * weight;
        gy = products * weight;
    }

    /** Sum of x^(twice / 2). */
    private static double of(double[] whole, double[] halves, int twice) {
        return twice % 2 == 0 ? whole[twice / 2] : halves[(twice - 1) / 2];
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
        double k = shape - POWERS + 1;
        return k / (1 - StrictMath.exp(-k));
    }

    private static double[] growth(double k) {
        double[] table = new double[STEPS + 1];
        for (int i = 0; i <= STEPS; i++) {
            table[i] = StrictMath.expm1(k * i / STEPS) / StrictMath.expm1(k);
        }
        return table;
    }
}
