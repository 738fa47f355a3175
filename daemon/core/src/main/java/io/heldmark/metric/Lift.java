package io.heldmark.metric;

import io.heldmark.model.UncertaintyBudget;
import io.heldmark.model.UncertaintySource;
import io.heldmark.model.UncertaintyTerm;
import java.util.Arrays;

/**
 * How far noise lifts the highest of many readings above the highest of what they would be without it.
 *
 * <p><b>Model.</b> Readings come in blocks of 10 ms, each with a true value r_k and n independent readings of it with normal
 * noise s. The highest of all has the distribution G(x) = product over k of Phi((x - r_k) / s)^n, hence a mean and a standard
 * deviation (integrals of G, in steps of s/4). The true r_k are not known; the means of the blocks stand for them, and their
 * highest is itself lifted by their noise s / sqrt(n), likewise: the lift is the sum of both.
 *
 * <p><b>In a budget.</b> The value is not corrected, for whoever compares it with others' wants the highest. The noise term
 * becomes that of the highest of many, u_c is what all terms make then, and the lift b joins so that U = 2 u_c + b at k = 2, as
 * a term sqrt(u_c b + b^2 / 4).
 *
 * <p><b>Source.</b> Distribution of the highest of independent ones: David and Nagaraja 2003, Order Statistics, 2.1 (from
 * memory); a known offset left uncorrected: GUM (JCGM 100:2008) F.2.4.5; blocks and their own lift: derived here, held against
 * simulation in {@code StatedUncertaintiesTest}.
 */
final class Lift {
    /** Length of a block. */
    static final long BLOCK_NS = 10_000_000L;

    private static final double STEP = 0.25;
    private static final int LOWEST = -20;
    private static final int HIGHEST = 24;
    private static final int FARTHEST = 40;
    private static final double[] LN_PHI = lnPhi();

    private final double mean;
    private final double deviation;
    private final double relativeDeviation;

    private Lift(double mean, double deviation, double relativeDeviation) {
        this.mean = mean;
        this.deviation = deviation;
        this.relativeDeviation = relativeDeviation;
    }

    /**
     * Works it out.
     *
     * @param blocks mean readings, at least one.
     * @param noise standard deviation of one reading, not negative.
     * @param each independent readings in a block, at least 1.
     */
    static Lift of(double[] blocks, double noise, double each) {
        if (!(noise > 0)) {
            return new Lift(0, 0, 1);
        }
        double[] ofReadings = moments(blocks, noise, each);
        double blockNoise = noise / Math.sqrt(each);
        double[] ofBlocks = moments(blocks, blockNoise, 1);
        double lift = noise * ofReadings[0] + blockNoise * ofBlocks[0];
        return new Lift(Math.max(0, lift), noise * ofReadings[1], ofReadings[1]);
    }

    /** Returns the means over 10 ms from onset to offset, those without a sample left out. */
    static double[] blocks(Trace t) {
        double[] means = new double[(int) ((t.offsetNs() - t.onsetNs()) / BLOCK_NS) + 2];
        int blocks = 0;
        long endNs = t.onsetNs() + BLOCK_NS;
        double sum = 0;
        int n = 0;
        for (int i = t.onsetIndex(); i <= t.offsetIndex(); i++) {
            while (t.timeNs(i) >= endNs) {
                if (n > 0) {
                    means[blocks++] = sum / n;
                }
                sum = 0;
                n = 0;
                endNs += BLOCK_NS;
            }
            sum += t.forceN(i);
            n++;
        }
        if (n > 0) {
            means[blocks++] = sum / n;
        }
        return Arrays.copyOf(means, blocks);
    }

    /** Returns how many independent readings a block of a trace holds. */
    static double independent(Trace t) {
        double blockS = BLOCK_NS * 1e-9;
        return t.uncertainty().independentSamples(BLOCK_NS / t.periodNs(), t.restingCorrelationSamples(), blockS);
    }

    /** Returns the expected lift. */
    double mean() {
        return mean;
    }

    /** Returns the standard deviation of the highest. */
    double standardDeviation() {
        return deviation;
    }

    /** Returns the budget of the highest, given that of one reading at a place fixed beforehand; {@code per} is its unit. */
    UncertaintyBudget budget(UncertaintyBudget ofOne, double per) {
        UncertaintyBudget.Builder b = UncertaintyBudget.builder();
        for (UncertaintyTerm term : ofOne.terms()) {
            double factor = term.source() == UncertaintySource.NOISE ? relativeDeviation : 1;
            b.add(term.source(), factor * term.standardUncertainty(), term.degreesOfFreedom());
        }
        double combined = b.build().standardUncertainty();
        double lift = mean * per;
        return b.add(UncertaintySource.LIFT, Math.sqrt(lift * (combined + lift / 4)))
                .build();
    }

    /** Mean and standard deviation of the highest less the highest block, in units of the noise. */
    private static double[] moments(double[] blocks, double noise, double each) {
        double top = Double.NEGATIVE_INFINITY;
        for (double block : blocks) {
            top = Math.max(top, block);
        }
        double[] readings = new double[FARTHEST];
        double perStep = 1 / (STEP * noise);
        for (double block : blocks) {
            double steps = (top - block) * perStep + 0.5;
            if (steps < FARTHEST) {
                readings[(int) steps] += each;
            }
        }
        double[] ln = logarithms(readings);
        double mean = STEP * HIGHEST;
        double square =
                mean * mean + STEP * STEP / 6; // What the trapezoids of 2 x G are short of (Euler and Maclaurin).
        for (int x = LOWEST; x <= HIGHEST; x++) {
            double part = STEP * StrictMath.exp(ln[x - LOWEST]) * (x == LOWEST || x == HIGHEST ? 0.5 : 1);
            mean -= part;
            square -= 2 * STEP * x * part;
        }
        return new double[] {mean, Math.sqrt(Math.max(0, square - mean * mean))};
    }

    /** Logarithm of G at every place: row by row, so that sums of different places do not wait for one another. */
    private static double[] logarithms(double[] readings) {
        double[] ln = new double[HIGHEST - LOWEST + 1];
        for (int k = 0; k < FARTHEST; k++) {
            double n = readings[k];
            if (n > 0) {
                for (int x = 0; x < ln.length; x++) {
                    ln[x] += n * LN_PHI[x + k];
                }
            }
        }
        return ln;
    }

    /** Logarithms of the normal distribution function at every step. */
    private static double[] lnPhi() {
        double[] table = new double[HIGHEST + FARTHEST - LOWEST];
        for (int i = 0; i < table.length; i++) {
            double z = STEP * (LOWEST + i);
            double tail = tail(Math.abs(z));
            table[i] = z < 0 ? StrictMath.log(tail) : StrictMath.log1p(-tail);
        }
        return table;
    }

    /** Probability of more than a, by Simpson's rule over 8 standard deviations. */
    private static double tail(double a) {
        int intervals = 160;
        double h = 8.0 / intervals;
        double sum = 0;
        for (int i = 0; i <= intervals; i++) {
            double x = a + i * h;
            double weight = i == 0 || i == intervals ? 1 : i % 2 == 1 ? 4 : 2;
            sum += weight * StrictMath.exp(-x * x / 2);
        }
        return sum * h / 3 / Math.sqrt(2 * Math.PI);
    }
}
