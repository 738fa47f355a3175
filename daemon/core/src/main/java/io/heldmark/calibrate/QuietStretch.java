package io.heldmark.calibrate;

import java.util.Locale;
import org.jspecify.annotations.Nullable;

/**
 * The last blocks of a trace, and whether they are quiet enough to be a zero.
 *
 * <p><b>Formulas.</b> With k blocks of length T_b, block means m_i, overall mean M of n samples:
 *
 * <ul>
 *   <li>SD of single samples about M, divisor n - 1;
 *   <li>slope b: least squares of m_i over block time;
 *   <li>wander: range of the m_i about the fitted line, less 4 SD / sqrt(n/k), which is what white noise explains;
 *   <li>standard uncertainty of M: u^2 = max(s_m^2 / k, SD^2 / n) + (b T / 2)^2 / 3 + resolution^2 / 12, where s_m is
 *       the SD of the block means about the fitted line (method of batch means: successive samples are correlated, block
 *       means hardly) and the middle term is half the change during the stretch, rectangular (GUM 4.3.7).
 * </ul>
 *
 * <p>Degenerate: a stretch with fewer than two samples in a block is never quiet.
 *
 * <p><b>Source.</b> GUM (JCGM 100:2008) 4.2.3, 4.3.7, F.2.2.1; batch means: common practice in the analysis of correlated
 * samples, from memory.
 */
final class QuietStretch {
    private final int blocks;
    private final double blockS;
    private final double resolution;
    private final long[] counts;
    private final double[] sums;
    private final double[] squares;
    private int filled;
    private int next;
    private double originN;
    private boolean hasOrigin;

    private double meanN;
    private double sdN;
    private double blockSdN;
    private double rangeN;
    private double slopeNPerS;
    private long samples;

    QuietStretch(int blocks, long blockNs, double resolution) {
        this.blocks = blocks;
        this.blockS = blockNs * 1e-9;
        this.resolution = resolution;
        counts = new long[blocks + 1];
        sums = new double[blocks + 1];
        squares = new double[blocks + 1];
    }

    void clear() {
        filled = 0;
        next = 0;
        hasOrigin = false;
        startBlock();
    }

    void add(double levelN) {
        if (!hasOrigin) {
            hasOrigin = true;
            originN = levelN; // Sums about a nearby value keep all digits.
        }
        double d = levelN - originN;
        counts[next]++;
        sums[next] += d;
        squares[next] += d * d;
    }

    void endBlock() {
        next = (next + 1) % counts.length;
        filled = Math.min(filled + 1, blocks);
        startBlock();
    }

    boolean whole() {
        return filled == blocks;
    }

    double meanN() {
        return meanN;
    }

    double standardUncertaintyN() {
        double noise = Math.max(blockSdN * blockSdN / blocks, sdN * sdN / samples);
        double half = slopeNPerS * blockS * blocks / 2;
        return Math.sqrt(noise + half * half / 3 + resolution * resolution / 12);
    }

    /** Returns why the stretch is no zero, in plain words; absent if it is one. */
    @Nullable String reasonNotQuiet(SessionZeroConfig limits, String unit) {
        if (!summarise()) {
            return "too few samples arrive";
        }
        double explained = 4 * sdN / Math.sqrt((double) samples / blocks);
        if (Math.abs(slopeNPerS) > limits.limitSlopeNPerS()) {
            return words(
                    "the force is changing by %.1f %s/s, allowed is %.1f",
                    Math.abs(slopeNPerS), unit, limits.limitSlopeNPerS());
        }
        if (rangeN - explained > limits.limitWanderN()) {
            return words(
                    "the force moves by %.1f %s, allowed is %.1f", rangeN, unit, limits.limitWanderN() + explained);
        }
        if (sdN > limits.limitSdN()) {
            return words("the noise is %.1f %s, allowed is %.1f", sdN, unit, limits.limitSdN());
        }
        return null;
    }

    private static String words(String format, double value, String unit, double allowed) {
        return String.format(Locale.ROOT, format, value, unit, allowed);
    }

    private void startBlock() {
        counts[next] = 0;
        sums[next] = 0;
        squares[next] = 0;
    }

    private boolean summarise() {
        samples = 0;
        double sum = 0;
        double square = 0;
        for (int i = 0; i < blocks; i++) {
            int b = block(i);
            if (counts[b] < 2) {
                return false;
            }
            samples += counts[b];
            sum += sums[b];
            square += squares[b];
        }
        double mean = sum / samples;
        meanN = originN + mean;
        sdN = Math.sqrt(Math.max(0, square - sum * mean) / (samples - 1));
        fitLine();
        return true;
    }

    private void fitLine() {
        double middle = (blocks - 1) / 2.0;
        double average = 0;
        for (int i = 0; i < blocks; i++) {
            average += blockMean(i) / blocks;
        }
        double xy = 0;
        double xx = 0;
        for (int i = 0; i < blocks; i++) {
            xy += (i - middle) * (blockMean(i) - average);
            xx += (i - middle) * (i - middle);
        }
        double perBlock = xy / xx;
        slopeNPerS = perBlock / blockS;
        double least = Double.POSITIVE_INFINITY;
        double most = Double.NEGATIVE_INFINITY;
        double squared = 0;
        for (int i = 0; i < blocks; i++) {
            double r = blockMean(i) - average - perBlock * (i - middle);
            least = Math.min(least, r);
            most = Math.max(most, r);
            squared += r * r;
        }
        rangeN = most - least;
        blockSdN = Math.sqrt(squared / (blocks - 2));
    }

    /** Ring index of the i-th whole block, oldest first. */
    private int block(int i) {
        return Math.floorMod(next - blocks + i, counts.length);
    }

    private double blockMean(int i) {
        int b = block(i);
        return sums[b] / counts[b];
    }
}
