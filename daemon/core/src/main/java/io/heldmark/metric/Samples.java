package io.heldmark.metric;

import io.heldmark.model.Window;

/** What several metrics ask of the samples of a window. */
final class Samples {
    private static final double GAP_PERIODS = 1.5;
    private static final long REST_NS = 200_000_000L;

    private Samples() {}

    /** Returns the mean time between samples that follow one another, in nanoseconds: the real one, not the nominal. */
    static double periodNs(Window w) {
        return w instanceof Trace trace ? trace.periodNs() : meanStepNs(w);
    }

    /** Works the same out from the samples. */
    static double meanStepNs(Window w) {
        double nominalNs = 1e9 / w.sampleRateHz();
        long shortOfNs = (long) Math.ceil(GAP_PERIODS * nominalNs);
        long sum = 0; // Whole numbers: exact, as in floating point below 2^53.
        int n = 0;
        for (int i = 1; i < w.size(); i++) {
            long step = w.timeNs(i) - w.timeNs(i - 1);
            if (!w.gapBefore(i) && step < shortOfNs) {
                sum += step;
                n++;
            }
        }
        return n == 0 ? nominalNs : (double) sum / n;
    }

    /** Returns the longest whole time between two samples that follow one another, in nanoseconds. */
    static long longestStepNs(double periodNs) {
        return (long) Math.floor(GAP_PERIODS * periodNs);
    }

    /** Tells whether samples are missing between a sample and the one before it. */
    static boolean missingBefore(Window w, int index, double periodNs) {
        return index > 0 && (w.gapBefore(index) || w.timeNs(index) - w.timeNs(index - 1) > GAP_PERIODS * periodNs);
    }

    /** Returns the number of samples of the resting level: those of the 200 ms before the onset, at least 1. */
    static int restingSamples(Window w) {
        int n = 0;
        for (int i = Math.min(w.onsetIndex(), w.size()) - 1; i >= 0 && w.timeNs(i) >= w.onsetNs() - REST_NS; i--) {
            n++;
        }
        return Math.max(1, n);
    }

    /** Returns the noise variance of a mean of n samples over a stretch. */
    static double noiseVariance(DeviceUncertainty u, double n, double stretchS) {
        return u.noiseVariance(Reading.mean(0, n, stretchS));
    }

    /** Returns the resting level as a reading. */
    static Reading rest(Window w) {
        int n = restingSamples(w);
        return Reading.mean(w.restingLevelN(), n, n * periodNs(w) * 1e-9);
    }

    /** Returns the force at a time between samples, drawn straight; the nearest sample's beyond the ends. */
    static double forceAt(Window w, int after, long timeNs) {
        if (after <= 0 || after >= w.size() || w.timeNs(after) == w.timeNs(after - 1)) {
            return w.forceN(Math.max(0, Math.min(after, w.size() - 1)));
        }
        double share = (timeNs - w.timeNs(after - 1)) / (double) (w.timeNs(after) - w.timeNs(after - 1));
        return w.forceN(after - 1) + share * (w.forceN(after) - w.forceN(after - 1));
    }
}
