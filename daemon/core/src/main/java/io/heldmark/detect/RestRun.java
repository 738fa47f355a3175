package io.heldmark.detect;

/**
 * Follows undisturbed rest over a run of smoothed samples in one go: its level and noise ({@link RestTracker}) and its unrest
 * ({@link Stillness}), the same as one by one, to the bit.
 *
 * <p><b>Why one loop.</b> Each of the four is a lag that waits for its own value of the sample before, three operations in a
 * row. Side by side they wait together, so that the four cost little more than one.
 *
 * <p><b>Cost.</b> O(1) per sample, nothing allocated.
 */
final class RestRun {
    private RestRun() {}

    /** Follows the newest mean of a smoother, if it is due. */
    static void followNewest(Smoother smoother, long nowNs, RestTracker rest, Stillness stillness) {
        TraceBuffer means = smoother.means();
        long newest = means.end() - 1;
        if (!rest.isDue(newest)) {
            return;
        }
        rest.follow(nowNs, means.forceN(newest));
        double differenceN = smoother.difference(smoother.width());
        if (!rest.settling(nowNs) && Math.abs(differenceN) < Double.MAX_VALUE) {
            rest.scatter(differenceN);
            stillness.rest();
        }
    }

    /**
     * Follows those of the newest means of a smoother, from a position on, that are due; none of them may be nearer to a gap than {@link
     * Stillness#lag} and the smoother's width.
     *
     * @param raw the ring of samples, all of which the smoother has.
     */
    static void follow(TraceBuffer raw, Smoother smoother, long from, RestTracker rest, Stillness stillness) {
        TraceBuffer means = smoother.means();
        double[] ring = means.forceRing();
        int mask = ring.length - 1;
        int stride = rest.stride();
        long due = followSettling(raw, means, (from + stride - 1) / stride * stride, rest);
        int left = (int) Math.max(0, (means.end() - due + stride - 1) / stride);
        int p = (int) due;
        for (; left > 0 && !stillness.longKnown(); left--, p += stride) {
            double meanN = ring[p & mask];
            rest.set(
                    rest.nextLevelN(rest.levelN(), rest.varianceN2(), meanN),
                    rest.nextVarianceN2(rest.varianceN2(), meanN - ring[(p - smoother.width()) & mask]));
            stillness.rest(meanN - ring[(p - stillness.quickLag()) & mask], meanN - ring[(p - stillness.lag()) & mask]);
        }
        followLong(ring, p, left, smoother.width(), rest, stillness);
    }

    /** Follows those that the level settles on; returns the first that is due after them. */
    private static long followSettling(TraceBuffer raw, TraceBuffer means, long due, RestTracker rest) {
        long later = raw.end() - means.end(); // A mean is followed at the time of its newest sample.
        long p = due;
        while (p < means.end() && rest.settling(raw.timeNs(p + later))) {
            rest.follow(raw.timeNs(p + later), means.forceN(p));
            p += rest.stride();
        }
        return p;
    }

    /** What changes is in local variables, which need not go through memory at each sample. */
    private static void followLong(
            double[] ring, int from, int count, int width, RestTracker rest, Stillness stillness) {
        int stride = rest.stride();
        int quickLag = stillness.quickLag();
        int slowLag = stillness.lag();
        double share = stillness.restShare();
        double levelN = rest.levelN();
        double varianceN2 = rest.varianceN2();
        double quick = stillness.restQuick();
        double slow = stillness.restSlow();
        int p = from;
        for (int k = 0; k < count; k++) {
            double meanN = ring[p & (ring.length - 1)];
            levelN = rest.nextLevelN(levelN, varianceN2, meanN);
            varianceN2 = rest.nextVarianceN2(varianceN2, meanN - ring[(p - width) & (ring.length - 1)]);
            double slowN = meanN - ring[(p - slowLag) & (ring.length - 1)];
            if (Math.abs(slowN) < Double.MAX_VALUE) {
                quick = Stillness.next(quick, meanN - ring[(p - quickLag) & (ring.length - 1)], share);
                slow = Stillness.next(slow, slowN, share);
            }
            p += stride;
        }
        rest.set(levelN, varianceN2);
        stillness.set(quick, slow);
    }
}
