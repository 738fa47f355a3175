package io.heldmark.align;

import io.heldmark.align.ImpulseTrack.Knock;
import org.jspecify.annotations.Nullable;

/**
 * By how much later one cell shows a knock than another.
 *
 * <p><b>Method.</b> The trace of one is laid over that of the other by least squares: {@code f(t) = g h(t - d) + b} with delay d, factor g
 * (the cells share a knock as they like; of either sign) and base b, over the knock and a little more. h is read between its
 * samples on a cubic. A coarse search by the correlation coefficient finds the beginning, Gauss-Newton steps the rest. Both
 * are laid over each other in turn; the offset is the mean.
 *
 * <p><b>Uncertainty.</b> {@code u^2 = max(s^2 (1 + r)/(1 - r), noise) (J'J)^-1 + (half the difference of both directions)^2 / 3 + (both
 * resolutions)^2 / 12}: s the residual standard deviation (noise of both, and all by which their shapes differ), r its correlation from sample to
 * sample where positive, at most 0.9; rectangular terms by GUM 4.3.7. The inflation for correlated residuals is that of the
 * mean of a first-order autoregressive series (Bartlett 1946, from memory), taken over to a slope. The noise of both cells stands
 * where it is more: the cubic smooths what it reads between, so that the residuals show too little of it.
 *
 * @param offsetNs first minus second time of the knock, in nanoseconds.
 * @param standardUncertaintyNs of that.
 * @param correlation of both traces, without sign: 1 where they have the same shape.
 */
public record ImpulseMatch(double offsetNs, double standardUncertaintyNs, double correlation) {
    private static final double BEFORE_NS = 15e6;
    private static final double MARGIN_NS = 10e6;
    private static final double LEAST_SHARE = 0.05;
    private static final double SEARCH_NS = 60e6;
    private static final int STEPS = 12;
    private static final int FEWEST = 8;

    /** One trace laid over the other. */
    private record Laid(double offsetNs, double varianceNs2, double correlation) {}

    /**
     * Matches a knock.
     *
     * @param a first track.
     * @param ka the knock in it.
     * @param b second track.
     * @param kb the knock in it.
     * @param resolutionNs resolution of both devices' ticks together, in nanoseconds.
     * @return absent where they cannot be laid over each other.
     */
    public static @Nullable ImpulseMatch of(ImpulseTrack a, Knock ka, ImpulseTrack b, Knock kb, double resolutionNs) {
        double roughNs = a.timeNs(ka.at()) - b.timeNs(kb.at());
        Laid forth = lay(a, ka, b, roughNs);
        Laid back = lay(b, kb, a, -roughNs);
        if (forth == null || back == null) {
            return null;
        }
        double halfNs = (forth.offsetNs + back.offsetNs) / 2; // back is minus the same offset
        double variance =
                Math.max(forth.varianceNs2, back.varianceNs2) + halfNs * halfNs / 3 + resolutionNs * resolutionNs / 12;
        return new ImpulseMatch(
                (forth.offsetNs - back.offsetNs) / 2,
                Math.sqrt(variance),
                Math.min(forth.correlation, back.correlation));
    }

    private static @Nullable Laid lay(ImpulseTrack on, Knock knock, ImpulseTrack over, double roughNs) {
        int from = Math.max(0, on.indexAt(on.timeNs(knock.at()) - BEFORE_NS) - 1);
        int last = knock.at();
        for (int i = knock.at(); i < Math.min(on.count(), knock.at() + on.samples(ImpulseTrack.RING_S)); i++) {
            last = Math.abs(on.forceN(i) - knock.baseN()) > LEAST_SHARE * knock.peakN() ? i : last;
        }
        int to = Math.min(on.count() - 1, Math.max(last, on.indexAt(on.timeNs(last) + MARGIN_NS)) + 1);
        if (to - from + 1 < FEWEST) {
            return null;
        }
        Fit fit = new Fit(on, over, from, to);
        double startNs = search(fit, roughNs, Math.min(on.periodNs(), over.periodNs()) / 2);
        return Double.isNaN(startNs) ? null : refine(fit, startNs);
    }

    private static double search(Fit fit, double roughNs, double stepNs) {
        double best = -1;
        double bestNs = Double.NaN;
        int steps = (int) Math.ceil(SEARCH_NS / stepNs);
        for (int i = -steps; i <= steps; i++) {
            double delayNs = roughNs + i * stepNs;
            if (fit.at(delayNs) && Math.abs(fit.correlation()) > best) {
                best = Math.abs(fit.correlation());
                bestNs = delayNs;
            }
        }
        return bestNs;
    }

    private static @Nullable Laid refine(Fit fit, double startNs) {
        double delayNs = startNs;
        for (int i = 0; i < STEPS; i++) {
            if (!fit.at(delayNs)) {
                return null;
            }
            double stepNs = fit.stepNs();
            if (!(Math.abs(stepNs) <= SEARCH_NS)) {
                return null;
            }
            delayNs += stepNs;
        }
        return fit.at(delayNs) ? new Laid(delayNs, fit.varianceNs2(), Math.abs(fit.correlation())) : null;
    }

    /** The fit at one delay: factor and base by linear regression, the step of the delay by the slope of the residuals. */
    private static final class Fit {
        private static final double MOST_CORRELATED = 0.9;

        private final ImpulseTrack on;
        private final ImpulseTrack over;
        private final int from;
        private final int n;
        private final double[] h;
        private final double[] slope;
        private final double[] residual;
        private final double[] read = new double[2];
        private double correlation;
        private double factor;
        private double sumJr;
        private double sumJj;

        Fit(ImpulseTrack on, ImpulseTrack over, int from, int to) {
            this.on = on;
            this.over = over;
            this.from = from;
            n = to - from + 1;
            h = new double[n];
            slope = new double[n];
            residual = new double[n];
        }

        boolean at(double delayNs) {
            double meanF = 0;
            double meanH = 0;
            double meanS = 0;
            for (int i = 0; i < n; i++) {
                if (!over.interpolate(on.timeNs(from + i) - delayNs, read)) {
                    return false;
                }
                h[i] = read[0];
                slope[i] = read[1];
                meanF += on.forceN(from + i) / n;
                meanH += h[i] / n;
                meanS += slope[i] / n;
            }
            double ff = 0;
            double hh = 0;
            double fh = 0;
            double hs = 0;
            for (int i = 0; i < n; i++) {
                double f = on.forceN(from + i) - meanF;
                h[i] -= meanH;
                slope[i] -= meanS;
                ff += f * f;
                hh += h[i] * h[i];
                fh += f * h[i];
                hs += h[i] * slope[i];
            }
            if (!(ff > 0 && hh > 0)) {
                return false;
            }
            correlation = fh / Math.sqrt(ff * hh);
            factor = fh / hh;
            solve(meanF, hs / hh);
            return true;
        }

        private void solve(double meanF, double slopeOnH) {
            sumJr = 0;
            sumJj = 0;
            for (int i = 0; i < n; i++) {
                residual[i] = on.forceN(from + i) - meanF - factor * h[i];
                double j = -factor * (slope[i] - slopeOnH * h[i]); // what factor and base cannot make up for
                sumJr += j * residual[i];
                sumJj += j * j;
            }
        }

        double correlation() {
            return correlation;
        }

        double stepNs() {
            return sumJr / sumJj;
        }

        double varianceNs2() {
            double squares = 0;
            double neighbours = 0;
            for (int i = 0; i < n; i++) {
                squares += residual[i] * residual[i];
                neighbours += i > 0 ? residual[i] * residual[i - 1] : 0;
            }
            double r = squares > 0 ? Math.min(MOST_CORRELATED, Math.max(0, neighbours / squares)) : 0;
            // Of few samples the scatter itself is uncertain: n - 5, as the variance of Student's t with n - 3 has it.
            double seen = squares / (n - 5) * (1 + r) / (1 - r);
            double overN = factor * over.noiseN() * Math.sqrt(Math.max(1, over.periodNs() / on.periodNs()));
            return Math.max(seen, on.noiseN() * on.noiseN() + overN * overN) / sumJj;
        }
    }
}
