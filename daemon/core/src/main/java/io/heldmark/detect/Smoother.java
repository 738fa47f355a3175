package io.heldmark.detect;

/**
 * Running mean over a short span into a ring of its own. A span of 20 ms is one whole period of 50-Hz hum.
 *
 * <p><b>Formula.</b> Mean of the newest w = max(2, round(span rate)) samples, stamped with the middle of their times, so
 * that a straight rise is not delayed but known (w - 1) / 2 samples late. After a gap it is silent until w samples have
 * come: no mean spans a gap.
 *
 * <p><b>Numbers.</b> The running sum is taken afresh every 1,024 samples, so that rounding errors cannot pile up.
 *
 * <p><b>Later.</b> A smoother whose means nobody reads for now may lag behind: {@link #catchUp} takes what has come to the
 * ring since, in one go. The means are the same, whenever they are taken. Where more has come than is to be kept, {@link
 * #catchUpKept} begins at a sample at which the sum is taken afresh, for nothing of before enters what follows.
 *
 * <p><b>Cost.</b> O(1) per sample, nothing allocated.
 */
final class Smoother {
    private static final int REFRESH = 1024;

    private final int width;
    private final double share; // Of a sample in a mean.
    private final double halfSpanNs;
    private final int kept;
    private final TraceBuffer raw;
    private final TraceBuffer means;
    private double sum;
    private int held;
    private int sinceRefresh;
    private long since; // Means since the last gap.
    private boolean gapPending;
    private long taken; // Samples of the ring that are in.

    /**
     * Makes a smoother that reads a ring.
     *
     * @param raw the ring of samples; each is added there before {@link #next} is called.
     * @param spanS the span, in seconds.
     * @param sampleRateHz nominal rate.
     * @param keptS seconds of means to keep.
     */
    Smoother(TraceBuffer raw, double spanS, double sampleRateHz, double keptS) {
        this.raw = raw;
        width = (int) Math.max(2, Math.round(spanS * sampleRateHz));
        share = 1.0 / width;
        halfSpanNs = (width - 1) / 2.0 / sampleRateHz * 1e9;
        kept = (int) Math.ceil(keptS * sampleRateHz) + width;
        means = new TraceBuffer(kept);
    }

    /** Returns how far the time of a mean lies after its first sample, in nanoseconds. */
    double halfSpanNs() {
        return halfSpanNs;
    }

    /** Returns the means. */
    TraceBuffer means() {
        return means;
    }

    /** Returns the newest mean. */
    double newestN() {
        return means.forceN(means.end() - 1);
    }

    /** Returns the number of samples in a mean. */
    int width() {
        return width;
    }

    /** Returns the newest mean less the one that many samples before; NaN where a gap or nothing lies between. */
    double difference(int lag) {
        long newest = means.end() - 1;
        if (newest - lag < means.first() || since <= lag) {
            return Double.NaN;
        }
        return means.forceN(newest) - means.forceN(newest - lag);
    }

    /** Takes the newest sample of the ring; tells whether there is a new mean. */
    boolean next() {
        return take(raw.end() - 1);
    }

    /** Takes every sample of the ring that is not in yet. */
    void catchUp() {
        while (taken < raw.end()) {
            if (held == width && !gapPending) {
                takeRun();
            }
            if (taken < raw.end()) {
                take(taken);
            }
        }
    }

    /**
     * Does the same where nothing but the means still to be kept is ever read. Samples that are not in yet may have a gap
     * before the first of them, nowhere else.
     */
    void catchUpKept() {
        if (taken < raw.end() && raw.gapBefore(taken)) {
            take(taken);
        }
        while (held < width && taken < raw.end()) {
            take(taken);
        }
        long afresh = taken + REFRESH - 1 - sinceRefresh;
        long spare = raw.end() - kept - afresh;
        if (spare >= 0) {
            long from = afresh + spare / REFRESH * REFRESH;
            since += from - taken;
            taken = from;
            sinceRefresh = REFRESH - 1;
            means.clear();
        }
        catchUp();
    }

    /** Takes samples up to the next gap or to where the sum is next taken afresh: the same as one by one, in a tight loop. */
    private void takeRun() {
        long end = raw.firstGap(taken, Math.min(raw.end(), taken + REFRESH - 1 - sinceRefresh));
        int run = (int) (end - taken);
        sum = means.addMeans(raw, taken, end, width, sum);
        sinceRefresh += run;
        since += run;
        taken = end;
    }

    /** Returns how many samples of the ring are not in yet; together with a span they must not exceed the ring. */
    long behind() {
        return raw.end() - taken;
    }

    /** Tells whether means lie back without a gap for longer than a number of samples. */
    boolean steady(int lag) {
        return since > lag;
    }

    private boolean take(long position) {
        taken = position + 1;
        if (raw.gapBefore(position)) {
            restart();
            gapPending = means.end() > 0;
        }
        if (held < width) {
            sum += raw.forceN(position);
            held++;
        } else {
            sum += raw.forceN(position) - raw.forceN(position - width);
        }
        if (held < width) {
            return false;
        }
        if (++sinceRefresh >= REFRESH) {
            sinceRefresh = 0;
            sum = raw.meanN(position + 1 - width, position + 1) * width;
        }
        long first = raw.timeNs(position + 1 - width);
        means.add(first + ((raw.timeNs(position) - first) >> 1), sum * share, gapPending);
        gapPending = false;
        since++;
        return true;
    }

    /** Refers the kept means to a session zero that lies higher. */
    void shiftZero(double shiftN) {
        means.shiftZero(shiftN);
        sum -= shiftN * held;
    }

    /** Forgets everything; the ring forgets too. */
    void clear() {
        means.clear();
        taken = 0;
        restart();
        gapPending = false;
    }

    private void restart() {
        sum = 0;
        held = 0;
        sinceRefresh = 0;
        since = 0;
    }
}
