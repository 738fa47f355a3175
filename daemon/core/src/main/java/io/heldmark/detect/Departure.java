package io.heldmark.detect;

import java.util.Arrays;

/**
 * The moment at which a trace leaves a level, and how well it is known.
 *
 * <p><b>Model.</b> y = c up to tau and y = c + a g(x) + b h(x) after it, x the time since tau over that to the end of the
 * stretch, g and h = x g the {@link RiseShapes}; white noise of unknown size. Bayes' rule over all shapes, each with and
 * without its second term, equally likely at first; flat priors for tau, c and a, one proportional to 1/s for the noise,
 * and a normal one for b with a standard deviation of the height of the stretch. c, a, b and s are integrated out in closed
 * form; what is left is a weight for each tau on a grid, its logarithm -(n/r - 3)/2 log(S) - log(D)/2 with S the least
 * residual sum of squares, D the determinant of the normal equations, and r the number of successive samples that count
 * as one. Shapes that bend down before the end are left out.
 *
 * <p><b>Result.</b> Median of tau under these weights, over all shapes, and the root mean square distance from it. So the statement holds whatever
 * shape a rise has, and is as wide as the shapes that fit differ.
 *
 * <p><b>Cost.</b> A search of 16 moments over at most 48 means, then another of 24 over at most 64 around what it found. More
 * moments find nothing else: the weights are smooth, and the last ones stand half of their standard deviation apart. Where
 * they turn out to be much narrower than that, up to two more searches follow.
 *
 * <p><b>Degenerate.</b> Fewer than 6 samples after the zone's beginning, or no shape of the right sign: not found.
 *
 * <p><b>Source.</b> Bayesian change points for onsets: Tenan, Tweedell and Haynes 2017, PLoS One 12:e0177312 (from memory);
 * model averaging: Hoeting et al. 1999, Statistical Science 14:382-417 (from memory). The choice of shapes is the project's
 * own; evidence in {@code docs/detection.md}.
 */
final class Departure {
    private static final int COARSE_POINTS = 48;
    private static final int COARSE_MOMENTS = 16;
    private static final int FINE_POINTS = 64;
    private static final int FINE_MOMENTS = 24;
    private static final double REACH = 6;
    private static final int MOST_FINER = 3;
    private static final double LEAST_STEPS = 0.35; // What is narrow against the steps shows as 0.29 of one.
    private static final double NEGLIGIBLE = 20;
    private static final double LEAST = 1e-5; // Of what noise leaves; less of it would be rounding.
    private static final double SAMPLING = 0.1; // Of a period: a shape may turn within it.
    private static final double COURSE = 0.015; // Of the course looked at: no shape is quite that of a muscle.

    private final Segment trace;
    private final int to;
    private final double sign;
    private final double originN;
    private final double ridge;
    private final double perCount;
    private final double degrees;
    private final double leastN2;

    private boolean found;
    private double medianS;
    private double deviationS;

    private double stepS;
    private double sumN;
    private double aroundMeanN2;
    private final double[][] residuals = new double[2 * RiseShapes.COUNT][];
    private final double[][] determinants = new double[2 * RiseShapes.COUNT][];
    private double leastResidual;

    /**
     * Searches.
     *
     * @param trace samples.
     * @param from first index of the level.
     * @param zone first index at which the trace may leave it.
     * @param to index after the last one looked at.
     * @param upwards whether it leaves upwards.
     * @param heightN how far from the level it is at the end.
     * @param noiseN standard deviation of a single sample at the level.
     * @param correlation successive samples that count as one.
     */
    Departure(
            Segment trace,
            int from,
            int zone,
            int to,
            boolean upwards,
            double heightN,
            double noiseN,
            double correlation) {
        this.trace = trace;
        this.to = to;
        sign = upwards ? 1 : -1;
        originN = trace.forceN(from);
        double heightN2 = Math.max(heightN * heightN, 1e-18);
        double varianceN2 = Math.max(noiseN * noiseN, 1e-6 * heightN2);
        int count = to - from;
        ridge = varianceN2 / heightN2;
        perCount = 1.0 / count;
        degrees = count / Math.max(1, correlation) - 3;
        leastN2 = LEAST * varianceN2 * count;
        if (to - zone >= 6) {
            addUp(from);
            search(zone);
        }
    }

    boolean found() {
        return found;
    }

    /** Returns the moment, in seconds on the axis of the trace. */
    double tauS() {
        return medianS;
    }

    double standardUncertaintyS() {
        return deviationS;
    }

    private void addUp(int from) {
        double squares = 0;
        for (int i = from; i < to; i++) {
            double v = sign * (trace.forceN(i) - originN);
            sumN += v;
            squares += v * v;
        }
        aroundMeanN2 = squares - sumN * sumN * perCount;
    }

    private void search(int zone) {
        double endS = trace.timeS(to - 1);
        double beginS = trace.timeS(zone);
        double periodS = (endS - beginS) / (to - 1 - zone);
        double latestS = endS - 2 * periodS;
        if (!weigh(zone, COARSE_POINTS, COARSE_MOMENTS, beginS, latestS)) {
            return;
        }
        int finer = 0;
        do {
            double reachS = REACH * deviationS;
            double lowS = Math.max(beginS, medianS - reachS);
            double highS = Math.min(latestS, medianS + reachS);
            weigh(Math.max(zone, trace.indexAt(lowS) - 1), FINE_POINTS, FINE_MOMENTS, lowS, highS);
            finer++;
        } while (finer < MOST_FINER && found && deviationS < LEAST_STEPS * stepS);
        double samplingS = SAMPLING * periodS;
        double courseS = COURSE * (endS - medianS);
        deviationS = Math.sqrt(deviationS * deviationS + samplingS * samplingS + courseS * courseS);
    }

    /** Weighs moments from lowS to highS, with the samples from {@code zone} gathered into at most {@code points} means. */
    private boolean weigh(int zone, int points, int moments, double lowS, double highS) {
        int step = (to - zone + points - 1) / points;
        int n = (to - zone) / step;
        double[] t = new double[n];
        double[] y = new double[n];
        gather(to - n * step, step, t, y);
        stepS = (highS - lowS) / (moments - 1);
        RiseShapes shapes = new RiseShapes(t, y, step);
        for (int model = 0; model < residuals.length; model++) {
            residuals[model] = new double[moments];
            Arrays.fill(residuals[model], Double.POSITIVE_INFINITY);
            determinants[model] = new double[moments];
        }
        leastResidual = Double.POSITIVE_INFINITY;
        int first = 0;
        for (int k = 0; k < moments; k++) {
            double tau = lowS + k * stepS;
            while (first < n && t[first] <= tau) {
                first++;
            }
            if (first < n) {
                shapes.sum(t[n - 1] - tau, first);
                weighMoment(shapes, k);
            }
        }
        found = leastResidual < Double.POSITIVE_INFINITY;
        if (found) {
            summarise(lowS, moments);
        }
        return found;
    }

    /** Means of {@code step} samples from an index on. */
    private void gather(int begin, int step, double[] t, double[] y) {
        for (int k = 0; k < t.length; k++) {
            int i = begin + k * step;
            t[k] = (trace.timeS(i) + trace.timeS(i + step - 1)) / 2;
            y[k] = sign * (trace.meanN(i, i + step) - originN);
        }
    }

    private void weighMoment(RiseShapes shapes, int k) {
        for (int shape = 0; shape < RiseShapes.COUNT; shape++) {
            shapes.select(shape);
            double meanG = shapes.g * perCount;
            double gg = shapes.gg - shapes.g * meanG;
            double gy = shapes.gy - sumN * meanG;
            if (gg > 0 && gy > 0) {
                set(2 * shape, k, gy * gy / gg, gg);
            }
            double meanH = shapes.h * perCount;
            double gh = shapes.gh - shapes.h * meanG;
            double hh = shapes.hh - shapes.h * meanH + ridge;
            double hy = shapes.hy - sumN * meanH;
            double determinant = gg * hh - gh * gh;
            double a = gy * hh - hy * gh; // Both terms times the determinant.
            double b = gg * hy - gh * gy;
            double slope = RiseShapes.endSlope(shape);
            // h = x g, so its slope at the end is that of g and 1 more.
            if (determinant > 0 && a > 0 && a * slope + b * (slope + 1) >= 0) {
                set(2 * shape + 1, k, (a * gy + b * hy) / determinant, determinant / ridge);
            }
        }
    }

    private void set(int model, int k, double explainedN2, double determinant) {
        double residual = aroundMeanN2 - explainedN2;
        double kept = residual < leastN2 ? leastN2 : residual; // Comparisons are quicker here than Math.max.
        residuals[model][k] = kept;
        determinants[model][k] = determinant;
        leastResidual = kept < leastResidual ? kept : leastResidual;
    }

    private void summarise(double lowS, int moments) {
        double[] weights = new double[moments];
        addWeights(weights);
        double total = 0;
        for (double weight : weights) {
            total += weight;
        }
        double median = median(weights, total);
        double second = 0;
        for (int k = 0; k < weights.length; k++) {
            second += weights[k] * (k - median) * (k - median);
        }
        medianS = lowS + median * stepS;
        deviationS = stepS * Math.sqrt(second / total + 1.0 / 12);
    }

    /** What is negligible is left out before a logarithm is taken of it. */
    private void addWeights(double[] weights) {
        double negligible = leastResidual * StrictMath.exp(2 * NEGLIGIBLE / Math.max(1, degrees));
        for (int model = 0; model < residuals.length; model++) {
            double[] residual = residuals[model];
            for (int k = 0; k < weights.length; k++) {
                if (residual[k] < negligible) {
                    double log = -0.5 * degrees * StrictMath.log(residual[k] / leastResidual);
                    weights[k] += StrictMath.exp(log) / Math.sqrt(determinants[model][k]);
                }
            }
        }
    }

    /** Each weight is spread evenly over the step around its moment. */
    private static double median(double[] weights, double total) {
        double before = 0;
        for (int k = 0; k < weights.length; k++) {
            if (before + weights[k] >= total / 2) {
                return k - 0.5 + (total / 2 - before) / weights[k];
            }
            before += weights[k];
        }
        return weights.length - 1;
    }
}
