package io.heldmark.metric;

import io.heldmark.model.Window;
import org.jspecify.annotations.Nullable;

/**
 * The stretch of fixed length with the highest mean between onset and offset.
 *
 * <p><b>Definition.</b> A stretch of length T begins at a sample and holds every sample less than T later. It counts if
 * no gap lies inside and its samples fill it: samples x period reaches T within half a period. Length is time, not a
 * number of samples, so that it means the same at 80 Hz and at 2 kHz and when the rate is not quite the nominal one.
 *
 * @param firstIndex index of its first sample.
 * @param samples its number of samples.
 * @param meanN its mean force.
 */
record SlidingMean(int firstIndex, int samples, double meanN) {
    /** Returns the stretch with the highest mean, the earliest of equals; absent where none is whole. */
    static @Nullable SlidingMean highest(Window w, long spanNs) {
        double periodNs = 1e9 / w.sampleRateHz();
        int last = w.offsetIndex();
        SlidingMean best = null;
        int to = w.onsetIndex();
        int gap = w.onsetIndex();
        double sum = 0;
        for (int from = w.onsetIndex(); from <= last; from++) {
            while (to <= last && w.timeNs(to) - w.timeNs(from) < spanNs - periodNs / 4) {
                if (w.gapBefore(to) && to > from) {
                    gap = to;
                }
                sum += w.forceN(to);
                to++;
            }
            int n = to - from;
            boolean whole = n * periodNs >= spanNs - 0.6 * periodNs && !(gap > from && gap < to);
            if (whole && (best == null || sum / n > best.meanN)) {
                best = new SlidingMean(from, n, sum / n);
            }
            sum -= w.forceN(from);
        }
        return best;
    }
}
