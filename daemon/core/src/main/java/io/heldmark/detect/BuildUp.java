package io.heldmark.detect;

/**
 * How force came about: over how long it built up to a height, read from the smoothed trace.
 *
 * <p><b>Definition.</b> Of a height h above rest, the rise begins when the trace was last below {@code low} h and ends
 * when it first reached {@code high} h after that; both are interpolated between samples. A mechanical step (a limb laid
 * down, a bump) is over within some 20 ms, which the smoothing stretches to 40 ms at most; muscle takes longer, whatever
 * the height: the fastest voluntary rises take some 50 ms from 20 to 80 %.
 *
 * <p><b>Gaps.</b> Across a short one the trace is drawn straight; a longer one ends the search.
 *
 * <p><b>Units.</b> Seconds, newtons, nanoseconds. Bounded search of {@code searchNs} back; nothing allocated.
 *
 * <p><b>Source.</b> Fastest rises: rate of force development of 10 to 15 maxima per second, Maffiuletti et al. 2016, Eur
 * J Appl Physiol 116:1091-1116 (range from memory).
 */
final class BuildUp {
    private final TraceBuffer means;
    private final long searchNs;
    private final long bridgedNs;
    private double startNs;
    private double endNs;
    private double levelN; // Of rest.
    private long startAt;
    private long limitNs;
    private boolean startSeen;
    private boolean hiddenByGap;

    /**
     * Makes a reader.
     *
     * @param means the smoothed trace.
     * @param searchNs how far back to look.
     * @param bridgedNs longest stretch without means that is looked across.
     */
    BuildUp(TraceBuffer means, long searchNs, long bridgedNs) {
        this.means = means;
        this.searchNs = searchNs;
        this.bridgedNs = bridgedNs;
    }

    /**
     * Measures the rise to a height that was reached at the newest mean or before.
     *
     * @param restN level of rest.
     * @param heightN height above rest, over 0.
     * @param low share of the height at which the rise begins.
     * @param high share of the height at which it ends.
     * @param from newest position to begin the search from.
     * @param notBeforeNs time before which nothing is looked at.
     */
    void measure(double restN, double heightN, double low, double high, long from, long notBeforeNs) {
        levelN = restN;
        limitNs = Math.max(notBeforeNs, means.timeNs(from) - searchNs);
        double lowN = restN + low * heightN;
        long p = from;
        while (p > means.first() && !blocked(p) && means.forceN(p) >= lowN) {
            p--;
        }
        startSeen = means.forceN(p) < lowN;
        startNs = startSeen ? crossing(p, lowN) : means.timeNs(p);
        hiddenByGap = !startSeen && means.gapBefore(p, bridgedNs);
        startAt = p;
        double highN = restN + high * heightN;
        long q = p;
        while (q < from && means.forceN(q) < highN) {
            q++;
        }
        endNs = q > p ? crossing(q - 1, highN) : means.timeNs(q);
    }

    /** Returns how long the rise took. */
    double durationNs() {
        return endNs - startNs;
    }

    /** Returns when the rise began. */
    double startNs() {
        return startNs;
    }

    /** Tells whether the beginning was seen, and not hidden by a gap or the end of the search. */
    boolean startSeen() {
        return startSeen;
    }

    /** Tells whether a gap hides the beginning. */
    boolean hiddenByGap() {
        return hiddenByGap;
    }

    /**
     * Returns a first guess of the onset: the rise drawn back to rest in a straight line, not before rest was left. To be asked
     * before the trace goes on.
     */
    long onsetNs(double low, double high) {
        double drawnBack = startNs - durationNs() * low / (high - low);
        return (long) Math.max((double) leftRestNs(), drawnBack);
    }

    private long leftRestNs() {
        long p = startAt;
        while (startSeen && p > means.first() && !blocked(p) && means.forceN(p) > levelN) {
            p--;
        }
        return means.timeNs(p);
    }

    private boolean blocked(long p) {
        return means.gapBefore(p, bridgedNs) || means.timeNs(p) <= limitNs;
    }

    /** Time between positions p and p + 1 at which the trace passes a level upwards. */
    private double crossing(long p, double levelN) {
        if (p + 1 >= means.end()) {
            return means.timeNs(p);
        }
        double a = means.forceN(p);
        double b = means.forceN(p + 1);
        double share = b > a ? Math.max(0, Math.min(1, (levelN - a) / (b - a))) : 0;
        return means.timeNs(p) + share * (means.timeNs(p + 1) - means.timeNs(p));
    }
}
