package io.heldmark.metric;

import io.heldmark.model.Window;
import org.jspecify.annotations.Nullable;

/**
 * A stretch of fixed length between onset and offset, and its mean force.
 *
 * <p><b>Definition.</b> A stretch of length T begins at a sample and holds every sample less than T later. It counts if no
 * sample is missing inside and its samples fill it, that is, their number times the period reaches T within 0.6 period.
 * Length is time, not a number of samples, so that it means the same at 80 Hz and at 2 kHz and when the rate is not quite
 * the nominal one; at 80 Hz "100 ms" is 8 samples.
 *
 * @param firstIndex index of its first sample.
 * @param samples its number of samples.
 * @param meanN its mean force, in newtons relative to the session zero.
 * @param middleNs station time of its middle.
 */
record SlidingMean(int firstIndex, int samples, double meanN, double middleNs) {
    /** Takes every whole stretch, in order of time. */
    @FunctionalInterface
    interface Taker {
        void take(SlidingMean stretch);
    }

    /** Returns the stretch with the highest mean, the earliest of equals; absent where none is whole. */
    static @Nullable SlidingMean highest(Window w, long spanNs) {
        SlidingMean[] best = new SlidingMean[1];
        each(w, spanNs, stretch -> {
            if (best[0] == null || stretch.meanN > best[0].meanN) {
                best[0] = stretch;
            }
        });
        return best[0];
    }

    /** Hands over every whole stretch. */
    static void each(Window w, long spanNs, Taker taker) {
        double periodNs = Samples.periodNs(w);
        int last = w.offsetIndex();
        int to = w.onsetIndex();
        int gap = to; // Newest index with samples missing before it.
        double sum = 0;
        for (int from = w.onsetIndex(); from <= last; from++) {
            while (to <= last && w.timeNs(to) - w.timeNs(from) < spanNs - periodNs / 4) {
                gap = Samples.missingBefore(w, to, periodNs) ? to : gap;
                sum += w.forceN(to);
                to++;
            }
            int n = to - from;
            if (gap <= from && n * periodNs >= spanNs - 0.6 * periodNs) {
                double middleNs = w.timeNs(from) + (w.timeNs(to - 1) - w.timeNs(from)) / 2.0;
                taker.take(new SlidingMean(from, n, sum / n, middleNs));
            }
            sum -= w.forceN(from);
        }
    }
}
