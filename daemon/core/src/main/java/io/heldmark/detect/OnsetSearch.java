package io.heldmark.detect;

import io.heldmark.model.ContractionFlag;
import java.util.Arrays;
import java.util.Set;

/**
 * The onset of a finished contraction, and the rest before it.
 *
 * <p><b>Method.</b> (1) The rise is where the smoothed trace goes from rest through 30 % of the peak, last before it first
 * reaches half. (2) If more than half of the time between leaving rest and that point, and at least 200 ms, was spent
 * within a narrow band, that band is pre-tension and the rise is taken from there. (3) If the trace dipped right before
 * the rise, the search begins where it is back from the dip. (4) The {@link Departure} from rest is searched up to the
 * height of 300 times the noise of a 20-ms mean, but 5 to 20 % of the peak: far enough to see the course of the rise, near
 * enough for its shape to be simple. Where it is not found the live, back-dated onset stands.
 *
 * <p><b>Gaps.</b> A departure is searched across a short gap, for the time of each sample is known. A long one within the
 * rise leaves what was seen live; one before the rise is where the search begins.
 *
 * <p><b>Uncertainty.</b> That of the departure, 5 ms after a dip, the length of a gap that the onset lies in over the square
 * root of 12, and what the steps of a coarse trace hide ({@link Coarseness}) over that of 3 (root sum of squares). Alignment
 * of the channel's time is added by the detector.
 *
 * <p><b>Source.</b> Coarse trigger, rest of the last 200 ms: after the comparison in {@code
 * docs/detection.md}; common practice in parts (rest of 200 ms, stability): Maffiuletti et al. 2016, Eur J Appl Physiol
 * 116:1091-1116, Fig. 6.
 */
final class OnsetSearch {
    private static final double DIP_U_S = 0.005;
    private static final double REST_S = 0.2;
    private static final double NOISE_S = 0.5;
    private static final double LEVEL_S = 0.2;
    private static final double ZONE_S = 0.03;
    private static final double ZONE_RISES = 2;
    private static final double REST_RISES = 3;
    private static final int LEAST_POINTS = 5;
    private static final int LEAST_REST = 12;
    private static final double MEAN_S = 0.02;
    private static final double NOISES = 300;
    private static final double LEAST_HEIGHT = 0.05;
    private static final double MOST_HEIGHT = 0.2;
    private static final double DIP_S = 0.4;
    private static final double UNSEEN_REST_S = 0.05; // Less rest than this behind a long gap shows no rest.

    private final Segment trace;
    private final double restN;
    private final double noiseN;
    private final Set<ContractionFlag> flags;

    private final double rateHz;

    private int half;
    private double heightN;
    private double baseN;
    private double onsetS;
    private double standardUncertaintyS;

    /**
     * Makes a search that knows the live onset alone.
     *
     * @param trace samples from well before the contraction to its end.
     * @param coarseS the live, back-dated onset.
     * @param coarseUS its standard uncertainty.
     * @param restN level of rest that the detector knew.
     * @param noiseN its noise of the smoothed trace.
     * @param flags takes what is noticed.
     */
    OnsetSearch(
            Segment trace, double coarseS, double coarseUS, double restN, double noiseN, Set<ContractionFlag> flags) {
        this.trace = trace;
        this.restN = restN;
        this.noiseN = noiseN;
        this.flags = flags;
        rateHz = trace.rateHz();
        baseN = restN;
        onsetS = coarseS;
        standardUncertaintyS = coarseUS;
    }

    /**
     * Refines the onset.
     *
     * @param halfWidth half width of the smoothing, in samples.
     * @param peak index of the highest smoothed force.
     */
    void refine(int halfWidth, int peak) {
        half = halfWidth;
        heightN = trace.smoothN(peak, half) - restN;
        search(trace.indexAt(onsetS), peak);
    }

    double onsetS() {
        return onsetS;
    }

    double standardUncertaintyS() {
        return standardUncertaintyS;
    }

    private void search(int coarse, int peak) {
        int reached = firstAbove(coarse, peak, restN + 0.5 * heightN);
        int high = lastBelow(reached, coarse, restN + 0.3 * heightN) + 1;
        findPreTension(coarse, high);
        double topN = restN + heightN - baseN;
        int low = lastBelow(high - 1, 0, baseN + 0.1 * topN);
        int begin = trace.afterLastGap(afterDip(low, topN), high);
        if (begin > low) {
            return; // A long gap within the rise itself: what was seen live stands.
        }
        Stretch stretch = stretch(begin, high, topN);
        Departure fit = new Departure(
                trace,
                stretch.from,
                stretch.zone,
                stretch.to,
                true,
                stretch.heightN,
                stretch.noiseN,
                stretch.correlation);
        if (!fit.found()) {
            return;
        }
        onsetS = fit.tauS();
        double shapeS = flags.contains(ContractionFlag.COUNTERMOVEMENT) ? DIP_U_S : 0;
        double hiddenS = hiddenS(begin);
        double coarseS = Coarseness.hiddenS(trace, stretch.from, stretch.to, onsetS, baseN, stretch.noiseN);
        standardUncertaintyS = Math.sqrt(fit.standardUncertaintyS() * fit.standardUncertaintyS()
                + shapeS * shapeS
                + hiddenS * hiddenS / 12
                + coarseS * coarseS / 3);
    }

    /** Returns how long the onset may have been hidden: it lies in a gap, or so near behind one that no rest is seen. */
    private double hiddenS(int from) {
        int i = trace.indexAt(onsetS);
        double hidden = trace.gapS(i);
        if (trace.gapS(from) > 0 && onsetS - trace.timeS(from) < UNSEEN_REST_S) {
            flags.add(ContractionFlag.ONSET_NOT_SEEN);
            hidden = Math.max(hidden, trace.gapS(from));
        }
        return hidden;
    }

    /** What is looked at: the level from {@code from}, where it may be left from {@code zone}, up to {@code to}. */
    private record Stretch(int from, int zone, int to, double heightN, double noiseN, double correlation) {}

    private Stretch stretch(int begin, int high, double topN) {
        int foot = lastBelow(high - 1, begin, baseN + 0.1 * topN);
        RestStatistics rest = restBefore(begin, foot, high);
        double meanNoiseN = rest.noiseN() * Math.sqrt(rest.correlationSamples() / Math.max(1, MEAN_S * rateHz));
        double heightN = Math.max(LEAST_HEIGHT * topN, Math.min(MOST_HEIGHT * topN, NOISES * meanNoiseN));
        int top = lastBelow(high, begin, baseN + heightN) + 1;
        int low = lastBelow(top - 1, begin, baseN + 0.1 * heightN);
        double beforeS = Math.max(ZONE_S + 4 / rateHz, ZONE_RISES * (trace.timeS(top) - trace.timeS(low)));
        int zone = Math.max(begin, trace.indexAt(trace.timeS(low) - beforeS));
        int from = Math.max(begin, trace.indexAt(trace.timeS(zone) - LEVEL_S));
        int to = Math.min(Math.max(top, low + LEAST_POINTS), trace.size() - 1) + 1;
        return new Stretch(from, zone, to, heightN, rest.noiseN(), rest.correlationSamples());
    }

    /** Rest well before the foot of the rise; what the detector knew where there is too little of it. */
    private RestStatistics restBefore(int begin, int foot, int high) {
        double clearS = Math.max(ZONE_S, REST_RISES * (trace.timeS(high) - trace.timeS(foot)));
        int end = trace.indexAt(trace.timeS(foot) - clearS);
        int from = Math.max(begin, trace.indexAt(trace.timeS(end) - NOISE_S));
        if (end - from < LEAST_REST) {
            return new RestStatistics(baseN, noiseN * Math.sqrt(2.0 * half + 1), 1, 0);
        }
        return RestStatistics.of(trace, from, end);
    }

    private void findPreTension(int coarse, int high) {
        double spentS = trace.timeS(high) - trace.timeS(coarse);
        double band = 0.012 * heightN + 3 * noiseN;
        if (spentS < REST_S || band > 0.05 * heightN) {
            return;
        }
        double[] sorted = new double[Math.min(512, high - coarse)];
        for (int k = 0; k < sorted.length; k++) {
            sorted[k] = trace.smoothN(coarse + (int) ((long) k * (high - coarse) / sorted.length), half);
        }
        Arrays.sort(sorted);
        double middle = sorted[sorted.length / 2];
        long inside =
                Arrays.stream(sorted).filter(v -> Math.abs(v - middle) <= band).count();
        double insideS = spentS * inside / sorted.length;
        if (insideS >= Math.max(REST_S, spentS / 2) && middle - restN > band) {
            flags.add(ContractionFlag.PRE_TENSION);
            baseN = middle;
        }
    }

    /** Returns the index from which the trace is back from a dip before {@code low}; 0 without a dip. */
    private int afterDip(int low, double topN) {
        int from = trace.indexAt(trace.timeS(low) - DIP_S);
        int deepest = low;
        for (int i = from; i <= low; i++) {
            if (trace.smoothN(i, half) < trace.smoothN(deepest, half)) {
                deepest = i;
            }
        }
        double depthN = baseN - trace.smoothN(deepest, half);
        if (depthN < Math.max(2, Math.max(5 * noiseN, 0.02 * topN))) {
            return 0;
        }
        flags.add(ContractionFlag.COUNTERMOVEMENT);
        int back = firstAbove(deepest, low, baseN - Math.max(2 * noiseN, 0.1 * depthN));
        return Math.max(0, Math.min(back, low - 3));
    }

    /** Returns the statistics of the rest right before the onset: the level over 200 ms, the noise over up to 500 ms. */
    RestStatistics rest(int notBefore) {
        int to = trace.indexAt(onsetS);
        int from = Math.max(notBefore, trace.indexAt(onsetS - REST_S));
        from = trace.afterLastGap(from, Math.max(from, to - 1));
        int noiseFrom = Math.max(notBefore, trace.indexAt(onsetS - NOISE_S));
        noiseFrom = trace.afterLastGap(noiseFrom, Math.max(noiseFrom, to - 1));
        if (flags.contains(ContractionFlag.PRE_TENSION) || flags.contains(ContractionFlag.COUNTERMOVEMENT)) {
            noiseFrom = from;
        }
        RestStatistics level = RestStatistics.of(trace, from, to);
        RestStatistics noise = RestStatistics.of(trace, noiseFrom, to);
        if (level.samples() < 2) {
            return new RestStatistics(restN, noiseN, 1, 0);
        }
        if (level.unstable(trace, from, to)) {
            flags.add(ContractionFlag.BASELINE_UNSTABLE);
        }
        double scatterN = noise.samples() < 8 ? Math.max(noise.noiseN(), noiseN) : noise.noiseN();
        return new RestStatistics(level.levelN(), scatterN, noise.correlationSamples(), level.samples());
    }

    private int firstAbove(int from, int to, double levelN) {
        int i = from;
        while (i < to && trace.smoothN(i, half) < levelN) {
            i++;
        }
        return i;
    }

    private int lastBelow(int from, int to, double levelN) {
        int i = from;
        while (i > to && trace.smoothN(i, half) >= levelN) {
            i--;
        }
        return i;
    }
}
