package io.heldmark.detect;

import io.heldmark.model.SampleBatch;

/**
 * Lets samples of undisturbed rest wait in the ring, and follows them later in one go ({@link RestRun}): that gives the same,
 * for nothing can come of them.
 *
 * <p><b>Why nothing can.</b> Means of samples within a band are within it themselves. The level moves slowly, and the threshold is
 * never below the smallest rise; samples nearer than that to the level can neither rise above rest nor fall below it, however
 * they are smoothed. A level that settles moves quickly, but only towards the means: if it and all samples lie within a band as
 * wide as the smallest rise, then so do they later.
 *
 * <p><b>Cost.</b> One comparison a sample, nothing allocated.
 */
final class RestWait {
    private final TraceBuffer raw;
    private final Smoother smoother;
    private final RestTracker rest;
    private final Stillness stillness;
    private final double riseN;
    private final int mostBehind;
    private final double mostMovedN;
    private final Band band = new Band();

    /**
     * Makes one.
     *
     * @param raw the ring of samples.
     * @param smoother what smooths them; nothing reads its means while samples wait.
     * @param rest follows the means.
     * @param stillness knows how restless rest is.
     * @param riseN smallest rise that is ever looked at, in newtons.
     * @param mostBehind most samples to let wait.
     * @param periodS nominal time between samples.
     */
    RestWait(
            TraceBuffer raw,
            Smoother smoother,
            RestTracker rest,
            Stillness stillness,
            double riseN,
            int mostBehind,
            double periodS) {
        this.raw = raw;
        this.smoother = smoother;
        this.rest = rest;
        this.stillness = stillness;
        this.riseN = riseN;
        this.mostBehind = mostBehind;
        mostMovedN = RestTracker.mostMovedN(mostBehind * periodS);
    }

    /** Tells whether a batch may be put into the ring without looking at its samples one by one. */
    boolean mayWait(SampleBatch batch) {
        if (batch.count > mostBehind || batch.has(SampleBatch.GAP_BEFORE)) {
            return false;
        }
        if (smoother.behind() + batch.count > mostBehind) {
            catchUp();
        }
        if ((smoother.behind() > 0 || begin(batch.timeNs[0])) && band.holds(batch)) {
            return true;
        }
        catchUp();
        return false;
    }

    private boolean begin(long firstNs) {
        return smoother.steady(Math.max(stillness.lag(), smoother.width()))
                && (rest.settling(firstNs) ? setWhileSettling() : setAboutLevel())
                && band.holdsNewest(raw, smoother.width());
    }

    private boolean setAboutLevel() {
        double bandN = riseN - mostMovedN;
        band.set(rest.levelN() - bandN, rest.levelN() + bandN);
        return true;
    }

    private boolean setWhileSettling() {
        double levelN = rest.levelN();
        double middleN = (levelN + smoother.newestN()) / 2;
        band.set(middleN - riseN / 2, middleN + riseN / 2);
        return band.holds(levelN) && rest.settlesWithoutOvershoot();
    }

    /** Follows the samples that wait. */
    void catchUp() {
        if (smoother.behind() > 0) {
            long from = smoother.means().end();
            smoother.catchUp();
            RestRun.follow(raw, smoother, from, rest, stillness);
        }
    }
}
