package io.heldmark.detect;

/**
 * Where the release of a finished contraction began, and its offset.
 *
 * <p><b>Method.</b> (1) Backwards from the end to the last time above 20 % of the peak. (2) The held level is the mean of the
 * first quarter of a stretch before that time, doubled in length (0.3, 0.6, 1.2, ... s) until the mean grows by less than
 * 15 %. (3) The release began at the {@link Departure} from what was held before the last time above 80 % of that level (50 to
 * 400 ms of it, as the fall is long; a clear slope of it is taken away first), down to 40 times the scatter of a 20-ms mean,
 * but 10 to 40 % of the level. (4) The offset is the first time after it at which the force above rest is back at 5 % of
 * what it was when the release began, in a mean of 20 ms that grows up to 100 ms where noise would hide that level.
 *
 * <p><b>Uncertainty of the offset.</b> Noise of that mean and of rest over the slope there, and sampling.
 *
 * <p><b>Degenerate.</b> Force that never gets back there: the offset is the last sample, or where the detector says that
 * it settled; {@link #returned()} is false.
 *
 * <p><b>Source.</b> 5 % of the force at the release: the project's definition; no published source.
 */
final class ReleaseSearch {
    private static final double SHARE = 0.05;
    private static final double STRETCH_S = 0.3;
    private static final double HELD_LEAST_S = 0.05;
    private static final double HELD_MOST_S = 0.4;
    private static final double HELD_FALLS = 2;
    private static final double CLEAR_S = 0.01;
    private static final double CLEAR_FALLS = 2;
    private static final int LEAST_HELD = 12;
    private static final double MEAN_S = 0.02;
    private static final double SCATTERS = 40;
    private static final double LEAST_DEPTH = 0.1;
    private static final double MOST_DEPTH = 0.4;
    private static final double ZONE_S = 0.01;
    private static final double ZONE_FALLS = 1.5;
    private static final double LEVEL_S = 0.03;
    private static final int LEAST_POINTS = 5;
    private static final double HIDDEN_SCATTERS = 2;
    private static final double BEND_NOISE = 1.18;
    private static final double BEND_U = 0.5;
    private static final double REST_S = 0.2;

    private final Segment trace;
    private final int half;
    private final double restN;
    private final double noiseN;
    private final double heightN;
    private final int onset;
    private final int end;
    private final int limit;

    private double releaseS;
    private double releaseUS;
    private double heldUN;
    private double heldN;
    private double offsetS;
    private double offsetUS;
    private boolean returned;

    /**
     * Searches.
     *
     * @param trace samples of the contraction and some after it.
     * @param half half width of the smoothing, in samples.
     * @param restN level right before the contraction.
     * @param noiseN resting noise of the smoothed trace.
     * @param heightN peak above rest.
     * @param onset index of the onset.
     * @param end index at which the detector saw the end.
     * @param limit last index that may be the offset, at or after the end.
     */
    ReleaseSearch(Segment trace, int half, double restN, double noiseN, double heightN, int onset, int end, int limit) {
        this.trace = trace;
        this.half = half;
        this.restN = restN;
        this.noiseN = noiseN;
        this.heightN = heightN;
        this.onset = onset;
        this.end = end;
        this.limit = limit;
        int below = lastAbove(end, onset, 0.2 * heightN);
        double levelN = heldLevelN(below);
        findRelease(below, levelN);
        findOffset();
    }

    double releaseS() {
        return releaseS;
    }

    double releaseStandardUncertaintyS() {
        return releaseUS;
    }

    double offsetS() {
        return offsetS;
    }

    double offsetStandardUncertaintyS() {
        return offsetUS;
    }

    /** Tells whether the force came back to 5 %. */
    boolean returned() {
        return returned;
    }

    private double heightAt(int i) {
        return trace.smoothN(i, half) - restN;
    }

    private double heldLevelN(int below) {
        double endS = trace.timeS(below);
        double level = 0;
        for (double stretchS = STRETCH_S; ; stretchS *= 2) {
            int from = Math.max(onset, trace.indexAt(endS - stretchS));
            int to = Math.min(below + 1, Math.max(from + 1, trace.indexAt(endS - 0.75 * stretchS)));
            double mean = trace.meanN(from, to) - restN;
            if (mean < 1.15 * level) {
                return level;
            }
            level = mean;
            if (from == onset) {
                return Math.max(level, 0.5 * heightN);
            }
        }
    }

    private void findRelease(int below, double levelN) {
        int middle = lastAbove(below, onset, 0.5 * levelN);
        int high = lastAbove(middle, onset, 0.8 * levelN);
        int begin = trace.afterLastGap(onset, middle);
        double fallS = trace.timeS(middle) - trace.timeS(high);
        int heldTo = Math.max(begin, trace.indexAt(trace.timeS(high) - Math.max(CLEAR_S, CLEAR_FALLS * fallS)));
        int heldFrom = Math.max(
                begin,
                trace.indexAt(trace.timeS(heldTo) - Math.max(HELD_LEAST_S, Math.min(HELD_MOST_S, HELD_FALLS * fallS))));
        RestStatistics held = RestStatistics.of(trace, heldFrom, heldTo);
        boolean known = held.samples() >= LEAST_HELD;
        double scatterN = known ? held.noiseN() : noiseN * Math.sqrt(2.0 * half + 1);
        double correlation = known ? held.correlationSamples() : 1;
        double topN = known ? held.levelN() - restN : levelN;
        double meanScatterN = scatterN * Math.sqrt(correlation / Math.max(1, MEAN_S * trace.rateHz()));
        double depthN = Math.max(LEAST_DEPTH * topN, Math.min(MOST_DEPTH * topN, SCATTERS * meanScatterN));
        int to = Math.min(firstBelow(high, middle, topN - depthN), limit);
        int low = lastAbove(to, begin, topN - 0.1 * depthN);
        double beforeS = Math.max(ZONE_S + 4 / trace.rateHz(), ZONE_FALLS * (trace.timeS(to) - trace.timeS(low)));
        int zone = Math.max(begin, trace.indexAt(trace.timeS(low) - beforeS));
        int from = Math.max(begin, trace.indexAt(trace.timeS(zone) - LEVEL_S));
        to = Math.min(Math.max(to, low + LEAST_POINTS), limit) + 1;
        double slopeNPerS = held.clearSlopeNPerS();
        Segment level = slopeNPerS == 0 ? trace : trace.without(slopeNPerS, trace.timeS(heldTo), to);
        Departure fit = new Departure(level, from, zone, to, false, depthN, scatterN, correlation);
        releaseS = fit.found() ? fit.tauS() : trace.timeS(high);
        double fitUS = fit.found() ? fit.standardUncertaintyS() : fallS;
        double hiddenS = hiddenS(begin, topN, HIDDEN_SCATTERS * meanScatterN);
        releaseUS = Math.sqrt(fitUS * fitUS + hiddenS * hiddenS / 3);
        heldN = heldAtRelease(begin, levelN);
        heldUN = meanScatterN;
    }

    /** How long the fall may be hidden: from the moment found, or the last one at the level held, to a depth clear of its scatter. */
    private double hiddenS(int begin, double topN, double clearN) {
        int clear = firstBelow(trace.indexAt(releaseS), limit, topN - clearN);
        int held = lastAbove(clear, begin, topN);
        return Math.max(0, trace.timeS(clear) - Math.min(releaseS, trace.timeS(held)));
    }

    /** Mean of the last 50 ms before the release, above rest. */
    private double heldAtRelease(int begin, double levelN) {
        int to = trace.indexAt(releaseS);
        int from = Math.max(begin, trace.indexAt(releaseS - 0.05));
        return to > from ? Math.max(trace.meanN(from, to) - restN, levelN / 2) : levelN;
    }

    private int firstBelow(int from, int to, double heightOverRestN) {
        int i = from;
        while (i < to && heightAt(i) > heightOverRestN) {
            i++;
        }
        return i;
    }

    private void findOffset() {
        double levelN = SHARE * heldN;
        int reach = reach(levelN);
        int from = trace.indexAt(releaseS);
        int i = from;
        while (i < limit && trace.smoothN(i, reach) - restN > levelN) {
            i++;
        }
        returned = trace.smoothN(i, reach) - restN <= levelN;
        if (!returned) {
            i = end;
        }
        double periodS = trace.timeS(trace.size() - 1) / Math.max(1, trace.size() - 1);
        double slope = slope(i, reach);
        double bendN = returned ? bendN(i, reach) : 0;
        double bendS = slope > 0 ? Math.max(-reach, Math.min(reach, bendN / slope / periodS)) * periodS : 0;
        offsetS = returned && i > from ? Math.max(releaseS, crossing(i, reach, levelN) - bendS) : trace.timeS(i);
        double noise = BEND_NOISE * noiseN * Math.sqrt((2.0 * half + 1) / (2.0 * reach + 1));
        double restUN = noiseN * Math.sqrt((2.0 * half + 1) * periodS / REST_S);
        double levelUN = Math.sqrt(noise * noise + restUN * restUN + SHARE * SHARE * heldUN * heldUN);
        double byLevel = slope > 0 ? Math.min(0.25, levelUN / slope) : 0.25;
        double byBend = BEND_U * bendS;
        offsetUS = Math.sqrt(byLevel * byLevel + byBend * byBend + periodS * periodS / 12);
    }

    /**
     * By how much a mean lies above the force in its middle: the mean of a parabola over +-h does so by f'' h^2 / 6, and means
     * h apart differ in second order by f'' h^2.
     */
    private double bendN(int i, int reach) {
        int h = reach + 1;
        if (i - h < 0 || i + h >= trace.size()) {
            return 0;
        }
        return (trace.smoothN(i - h, reach) - 2 * trace.smoothN(i, reach) + trace.smoothN(i + h, reach)) / 6;
    }

    /** Half width of a mean whose noise is a third of a level, between the smoothing and 100 ms. */
    private int reach(double levelN) {
        double factor = 3 * noiseN / levelN;
        double wanted = half * factor * factor;
        double periodS = trace.timeS(trace.size() - 1) / Math.max(1, trace.size() - 1);
        return (int) Math.max(half, Math.min(wanted, 0.05 / periodS));
    }

    private double crossing(int i, int reach, double levelN) {
        double a = trace.smoothN(i - 1, reach) - restN;
        double b = trace.smoothN(i, reach) - restN;
        double share = a > b ? Math.max(0, Math.min(1, (a - levelN) / (a - b))) : 1;
        return trace.timeS(i - 1) + share * (trace.timeS(i) - trace.timeS(i - 1));
    }

    private double slope(int i, int reach) {
        int a = Math.max(0, i - reach - 1);
        int b = Math.min(trace.size() - 1, i + reach + 1);
        return b > a ? (trace.smoothN(a, reach) - trace.smoothN(b, reach)) / (trace.timeS(b) - trace.timeS(a)) : 0;
    }

    private int lastAbove(int from, int to, double heightOverRestN) {
        int i = from;
        while (i > to && heightAt(i) < heightOverRestN) {
            i--;
        }
        return i;
    }
}
