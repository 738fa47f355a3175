package io.heldmark.detect;

/**
 * The ways in which a trace may leave a level: 0 at the moment it leaves, 1 at the end of the stretch looked at.
 *
 * <p><b>Shapes.</b> With x from 0 to 1 between those two: x^p with p of 1, 1.5, 2, 2.5 and 3, and the growth (e^(kx) - 1) /
 * (e^k - 1) with k of 1 and 2; each alone, and each with a second term x times itself that bends it. A straight line, the
 * beginning of an exponential, of half a cosine, of a movement of least jerk and of a logistic curve cut at its foot are
 * among them or near to them, so that none of these courses is favoured.
 *
 * <p><b>Use.</b> {@link #sum} for the points after a moment, then the sums of one shape with {@link #select}. Growth is
 * read from a table of 1024 steps (error below 1e-6).
 */
final class RiseShapes {
    /** Number of shapes, not counting the second term. */
    static final int COUNT = 7;

    private static final int POWERS = 5;
    private static final int STEPS = 1024;
    private static final double[][] GROWTH = {growth(1), growth(2)};
    private static final double[] WHOLE =
            wholeNumbers(); // Looked up: a conversion waits for what its register held before.
    private static final double[] END_SLOPES = endSlopes();

    private final double[] whole = new double[9]; // Sums of x^q.
    private final double[] halves = new double[5]; // Sums of x^(q - 1/2).
    private final double[] wholeY = new double[5]; // The same times the value.
    private final double[] halvesY = new double[5];
    private final double[] x; // Of each point.
    private final int[] steps; // Whole steps of the table in x, and the rest.
    private final double[] rests;
    private final double[][] grown = new double[GROWTH.length][7];

    /** Sums of the selected shape g and its second term h, and of their products with each other and the value y. */
    double g;

    double gg;
    double gy;
    double h;
    double hh;
    double hy;
    double gh;

    /** Makes sums for at most that many points. */
    RiseShapes(int points) {
        x = new double[points];
        steps = new int[points];
        rests = new double[points];
    }

    /**
     * Sums up the points after a moment.
     *
     * @param tau the moment; x is 0 there and 1 at the last point.
     * @param t times of the points.
     * @param y their values.
     * @param first index of the first point after the moment.
     */
    void sum(double tau, double[] t, double[] y, int first) {
        double spanS = t[t.length - 1] - tau;
        for (int i = first; i < t.length; i++) {
            x[i] = (t[i] - tau) / spanS;
        }
        for (int i = first; i < t.length; i++) {
            double position = x[i] * STEPS;
            int step = Math.min(STEPS - 1, (int) position);
            steps[i] = step;
            rests[i] = position - WHOLE[step];
        }
        sumLowPowers(y, first, t.length);
        sumHighPowers(first, t.length);
        sumHalves(y, first, t.length);
        for (int k = 0; k < GROWTH.length; k++) {
            sumGrowth(grown[k], GROWTH[k], y, first, t.length);
        }
    }

    /** The running sums are local variables, for these need not go through memory at each point. */
    private void sumLowPowers(double[] y, int from, int to) {
        double s1 = 0;
        double s2 = 0;
        double s3 = 0;
        double s4 = 0;
        double y1 = 0;
        double y2 = 0;
        double y3 = 0;
        double y4 = 0;
        for (int i = from; i < to; i++) {
            double v = x[i];
            double power = v;
            s1 += power;
            y1 += power * y[i];
            power *= v;
            s2 += power;
            y2 += power * y[i];
            power *= v;
            s3 += power;
            y3 += power * y[i];
            power *= v;
            s4 += power;
            y4 += power * y[i];
        }
        put(whole, s1, s2, s3, s4);
        put(wholeY, y1, y2, y3, y4);
    }

    private void sumHighPowers(int from, int to) {
        double s5 = 0;
        double s6 = 0;
        double s7 = 0;
        double s8 = 0;
        for (int i = from; i < to; i++) {
            double v = x[i];
            double power = v * v * v * v * v;
            s5 += power;
            power *= v;
            s6 += power;
            power *= v;
            s7 += power;
            power *= v;
            s8 += power;
        }
        whole[5] = s5;
        whole[6] = s6;
        whole[7] = s7;
        whole[8] = s8;
    }

    private static void put(double[] sums, double first, double second, double third, double fourth) {
        sums[1] = first;
        sums[2] = second;
        sums[3] = third;
        sums[4] = fourth;
    }

    private void sumHalves(double[] y, int from, int to) {
        double s1 = 0;
        double s2 = 0;
        double s3 = 0;
        double y1 = 0;
        double y2 = 0;
        double y3 = 0;
        for (int i = from; i < to; i++) {
            double v = x[i];
            double half = Math.sqrt(v) * v;
            s1 += half;
            y1 += half * y[i];
            half *= v;
            s2 += half;
            y2 += half * y[i];
            half *= v;
            s3 += half;
            y3 += half * y[i];
        }
        put(halves, s1, s2, s3, 0);
        put(halvesY, y1, y2, y3, 0);
    }

    private void sumGrowth(double[] sums, double[] table, double[] y, int from, int to) {
        double sa = 0;
        double saa = 0;
        double say = 0;
        double sb = 0;
        double sbb = 0;
        double sby = 0;
        double sab = 0;
        for (int k = from; k < to; k++) {
            int i = steps[k];
            double a = table[i] + rests[k] * (table[i + 1] - table[i]);
            double b = x[k] * a;
            sa += a;
            saa += a * a;
            say += a * y[k];
            sb += b;
            sbb += b * b;
            sby += b * y[k];
            sab += a * b;
        }
        sums[0] = sa;
        sums[1] = saa;
        sums[2] = say;
        sums[3] = sb;
        sums[4] = sbb;
        sums[5] = sby;
        sums[6] = sab;
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

    private static double[] wholeNumbers() {
        double[] numbers = new double[STEPS];
        for (int i = 0; i < STEPS; i++) {
            numbers[i] = i;
        }
        return numbers;
    }

    private static double[] growth(double k) {
        double[] table = new double[STEPS + 1];
        for (int i = 0; i <= STEPS; i++) {
            table[i] = StrictMath.expm1(k * i / STEPS) / StrictMath.expm1(k);
        }
        return table;
    }
}
