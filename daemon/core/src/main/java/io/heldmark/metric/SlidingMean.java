package io.heldmark.metric;

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
        /** Takes a stretch: index of its first sample, number of samples, mean force. */
        void take(int first, int samples, double meanN);
    }

    private static final class Highest implements Taker {
        private int first = -1;
        private int samples;
        private double meanN = Double.NEGATIVE_INFINITY;

        @Override
        public void take(int nextFirst, int nextSamples, double nextMeanN) {
            if (nextMeanN > meanN) {
                first = nextFirst;
                samples = nextSamples;
                meanN = nextMeanN;
            }
        }
    }

    /** Returns the stretch with the highest mean, the earliest of equals; absent where none is whole. */
    static @Nullable SlidingMean highest(Trace t, long spanNs) {
        if (!t.missingInside()) {
            return highestUnbroken(t, spanNs);
        }
        Highest best = new Highest();
        each(t, spanNs, best);
        if (best.first < 0) {
            return null;
        }
        return new SlidingMean(best.first, best.samples, best.meanN, middleNs(t, best.first, best.samples));
    }

    /** Returns the same of a trace without missing samples, in plain arrays. */
    private static @Nullable SlidingMean highestUnbroken(Trace t, long spanNs) {
        double periodNs = t.periodNs();
        long reachNs = (long) Math.ceil(spanNs - periodNs / 4);
        double leastSamples = spanNs / periodNs - 0.6;
        int last = t.offsetIndex();
        int from = t.onsetIndex();
        int to = from;
        double sum = 0;
        double n = 0; // A number of samples that is counted along needs no conversion.
        int first = -1;
        int samples = 0;
        double highestSum = 0;
        double highestN = Double.NEGATIVE_INFINITY;
        while (last - from + 1 >= leastSamples && from <= last) { // Else those that are left do not fill it.
            long endNs = t.timeNs(from) + reachNs;
            while (to <= last && t.timeNs(to) < endNs) {
                sum += t.forceN(to);
                n++;
                to++;
            }
            if (n >= leastSamples && sum / n > highestN) {
                first = from;
                samples = to - from;
                highestSum = sum;
                highestN = sum / n;
            }
            sum -= t.forceN(from);
            from++;
            // While one comes for each that goes, a sum that is not higher has no higher mean: no need to divide.
            while (samples == to - from + 1
                    && to < last
                    && t.timeNs(to) < t.timeNs(from) + reachNs
                    && t.timeNs(to + 1) >= t.timeNs(from) + reachNs) {
                sum += t.forceN(to);
                to++;
                if (sum > highestSum && sum / n > highestN) {
                    first = from;
                    highestSum = sum;
                    highestN = sum / n;
                }
                sum -= t.forceN(from);
                from++;
            }
            n--;
        }
        return first < 0 ? null : new SlidingMean(first, samples, highestN, middleNs(t, first, samples));
    }

    /** Returns the time of the middle of a stretch. */
    static double middleNs(Trace t, int first, int samples) {
        return t.timeNs(first) + (t.timeNs(first + samples - 1) - t.timeNs(first)) / 2.0;
    }

    /** Hands over every whole stretch; nothing is allocated. */
    static void each(Trace t, long spanNs, Taker taker) {
        double periodNs = t.periodNs();
        boolean torn = t.missingInside();
        long reachNs = (long) Math.ceil(spanNs - periodNs / 4);
        double leastSamples = spanNs / periodNs - 0.6;
        int last = t.offsetIndex();
        int to = t.onsetIndex();
        int gap = to; // Newest index with samples missing before it.
        double sum = 0;
        for (int from = t.onsetIndex(); from <= last; from++) {
            while (to <= last && t.timeNs(to) - t.timeNs(from) < reachNs) {
                gap = torn && Samples.missingBefore(t, to, periodNs) ? to : gap;
                sum += t.forceN(to);
                to++;
            }
            int n = to - from;
            if (gap <= from && n >= leastSamples) {
                taker.take(from, n, sum / n);
            }
            sum -= t.forceN(from);
        }
    }
}
