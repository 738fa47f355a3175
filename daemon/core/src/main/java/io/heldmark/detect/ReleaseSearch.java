package io.heldmark.detect;

/**
 * Where the release of a finished contraction began, and its offset.
 *
 * <p><b>Method.</b> (1) Backwards from the end to the last time above 20 % of the peak. (2) The held level is the mean of the
 * first quarter of a stretch before that time, doubled in length (0.3, 0.6, 1.2, ... s) until the mean grows by less than
 * 15 %. (3) The release began at the {@link ChangePoint} between a stretch before the last time above 80 % of that level
 * and the last time above 50 %. (4) The offset is the first time after it at which the force above rest is back at 5 % of
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
    private static final double BEFORE_S = 0.2;

    private final Segment trace;
    private final int half;
    private final double restN;
    private final double noiseN;
    private final double heightN;
    private final int onset;
    private final int end;
    private final int limit;

    private double releaseS;
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
        int half50 = lastAbove(below, onset, 0.5 * levelN);
        int high = lastAbove(half50, onset, 0.8 * levelN);
        double lengthS = trace.timeS(half50) - trace.timeS(high);
        int from = Math.max(onset, trace.indexAt(trace.timeS(high) - Math.max(BEFORE_S, 2 * lengthS)));
        from = trace.afterLastGap(from, half50);
        int to = Math.min(Math.max(half50 + 1, high + 4), limit) + 1;
        ChangePoint fit = trace.changePoint(from, to, false, 1);
        if (fit.found()) {
            releaseS = fit.tauS();
            heldN = Math.max(fit.levelN() - restN, levelN / 2);
        } else {
            releaseS = trace.timeS(high);
            heldN = levelN;
        }
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
        offsetS = returned && i > from ? crossing(i, reach, levelN) : trace.timeS(i);
        double periodS = trace.timeS(trace.size() - 1) / Math.max(1, trace.size() - 1);
        double slope = slope(i, reach);
        double noise = noiseN * Math.sqrt((2.0 * half + 1) / (2.0 * reach + 1));
        double byNoise = slope > 0 ? Math.min(0.25, noise / slope) : 0.25;
        offsetUS = Math.sqrt(byNoise * byNoise + periodS * periodS / 12);
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
        int a = Math.max(0, i - 2 * reach - 1);
        int b = Math.min(trace.size() - 1, i + reach);
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
