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
 * <p><b>Cost.</b> A search over at most 48 means, then another of at most 64 around what it found.
 *
 * <p><b>Degenerate.</b> Fewer than 6 samples after the zone's beginning, or no shape of the right sign: not found.
 *
 * <p><b>Source.</b> Bayesian change points for onsets: Tenan, Tweedell and Haynes 2017, PLoS One 12:e0177312 (from memory);
 * model averaging: Hoeting et al. 1999, Statistical Science 14:382-417 (from memory). The choice of shapes is the project's
 * own; evidence in {@code docs/detection.md}.
 */
final class Departure {
    private static final int COARSE = 48;
    private static final int FINE = 64;
    private static final double REACH = 6;
    private static final double NEGLIGIBLE = 40;
    private static final double SAMPLING = 0.1; // Of a period: a shape may turn within it.
    private static final double COURSE = 0.015; // Of the course looked at: no shape is quite that of a muscle.

    private final Segment trace;
    private final int from;
    private final int to;
    private final double sign;
    private final double originN;
    private final double heightN;
    private final double varianceN2;
    private final double correlation;

    private boolean found;
    private double medianS;
    private double deviationS;

    private double count;
    private double sum;
    private double squares;
    private final double[][] residuals = new double[2 * RiseShapes.COUNT][FINE];
    private final double[][] determinants = new double[2 * RiseShapes.COUNT][FINE];
    private double leastResidual;
    private RiseShapes shapes = new RiseShapes(0);

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
        this.from = from;
        this.to = to;
        sign = upwards ? 1 : -1;
        originN = trace.forceN(from);
        this.heightN = Math.max(heightN, 1e-9);
        varianceN2 = Math.max(noiseN * noiseN, 1e-6 * heightN * heightN);
        this.correlation = Math.max(1, correlation);
        if (to - zone < 6) {
            return;
        }
        double endS = trace.timeS(to - 1);
        double beginS = trace.timeS(zone);
        double periodS = (endS - beginS) / (to - 1 - zone);
        if (weigh(zone, COARSE, beginS, endS - 2 * periodS)) {
            double reachS = REACH * deviationS;
            double lowS = Math.max(beginS, medianS - reachS);
            double highS = Math.min(endS - 2 * periodS, medianS + reachS);
            weigh(Math.max(zone, trace.indexAt(lowS) - 1), FINE, lowS, highS);
            double samplingS = SAMPLING * periodS;
            double courseS = COURSE * (endS - medianS);
            deviationS = Math.sqrt(deviationS * deviationS + samplingS * samplingS + courseS * courseS);
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

    /** Weighs moments from lowS to highS, with the samples from {@code zone} gathered into means. */
    private boolean weigh(int zone, int most, double lowS, double highS) {
        int step = (to - zone + most - 1) / most;
        int n = (to - zone) / step;
        double[] t = new double[n];
        double[] y = new double[n];
        gather(to - n * step, step, t, y);
        double stepS = (highS - lowS) / (most - 1);
        shapes = new RiseShapes(n);
        for (double[] ofModel : residuals) {
            Arrays.fill(ofModel, Double.POSITIVE_INFINITY);
        }
        leastResidual = Double.POSITIVE_INFINITY;
        int first = 0;
        for (int k = 0; k < most; k++) {
            double tau = lowS + k * stepS;
            while (first < n && t[first] <= tau) {
                first++;
            }
            weighMoment(tau, first, t, y, step, k);
        }
        found = leastResidual < Double.POSITIVE_INFINITY;
        if (found) {
            summarise(lowS, stepS, most);
        }
        return found;
    }

    /** Sums over all samples, and means of {@code step} samples from an index on. */
    private void gather(int begin, int step, double[] t, double[] y) {
        count = to - from;
        sum = 0;
        squares = 0;
        for (int i = from; i < to; i++) {
            double v = sign * (trace.forceN(i) - originN);
            sum += v;
            squares += v * v;
        }
        for (int k = 0; k < t.length; k++) {
            int i = begin + k * step;
            t[k] = (trace.timeS(i) + trace.timeS(i + step - 1)) / 2;
            y[k] = sign * (trace.meanN(i, i + step) - originN);
        }
    }

    private void weighMoment(double tau, int first, double[] t, double[] y, int weight, int k) {
        shapes.sum(tau, t, y, first);
        for (int s = 0; s < RiseShapes.COUNT; s++) {
            shapes.select(s, weight);
            alone(2 * s, k);
            bent(2 * s + 1, k, RiseShapes.endSlope(s));
        }
    }

    private void alone(int model, int k) {
        double gg = shapes.gg - shapes.g * shapes.g / count;
        double gy = shapes.gy - shapes.g * sum / count;
        double a = gy / gg;
        if (gg > 0 && a > 0) {
            set(model, k, squares - sum * sum / count - a * gy, gg);
        }
    }

    private void bent(int model, int k, double slope) {
        double ridge = varianceN2 / (heightN * heightN);
        double gg = shapes.gg - shapes.g * shapes.g / count;
        double gh = shapes.gh - shapes.g * shapes.h / count;
        double hh = shapes.hh - shapes.h * shapes.h / count + ridge;
        double gy = shapes.gy - shapes.g * sum / count;
        double hy = shapes.hy - shapes.h * sum / count;
        double determinant = gg * hh - gh * gh;
        double a = (gy * hh - hy * gh) / determinant;
        double b = (gg * hy - gh * gy) / determinant;
        // h = x g, so its slope at the end is that of g and 1 more.
        if (determinant > 0 && a > 0 && a * slope + b * (slope + 1) >= 0) {
            set(model, k, squares - sum * sum / count - a * gy - b * hy, determinant / ridge);
        }
    }

    private void set(int model, int k, double residual, double determinant) {
        double least = 1e-9 * varianceN2 * count;
        double kept = residual < least ? least : residual; // Comparisons are quicker here than Math.max.
        residuals[model][k] = kept;
        determinants[model][k] = determinant;
        leastResidual = kept < leastResidual ? kept : leastResidual;
    }

    /** Logarithm of a weight; minus infinity where it is negligible, which is seen without taking logarithms. */
    private double log(int model, int k, double negligible) {
        double residual = residuals[model][k];
        if (!(residual < negligible)) {
            return Double.NEGATIVE_INFINITY;
        }
        double degrees = count / correlation - 3;
        return -0.5 * degrees * StrictMath.log(residual / leastResidual) - 0.5 * StrictMath.log(determinants[model][k]);
    }

    private void summarise(double lowS, double stepS, int moments) {
        double negligible = leastResidual * StrictMath.exp(2 * NEGLIGIBLE / Math.max(1, count / correlation - 3));
        double highest = Double.NEGATIVE_INFINITY;
        for (int model = 0; model < residuals.length; model++) {
            double[] logs = residuals[model]; // In the place of what they are made of.
            for (int k = 0; k < moments; k++) {
                logs[k] = log(model, k, negligible);
                highest = logs[k] > highest ? logs[k] : highest;
            }
        }
        double[] weights = new double[moments];
        for (double[] logs : residuals) {
            for (int k = 0; k < moments; k++) {
                if (logs[k] > highest - NEGLIGIBLE) {
                    weights[k] += StrictMath.exp(logs[k] - highest);
                }
            }
        }
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
