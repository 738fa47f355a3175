package io.heldmark.detect;

import io.heldmark.model.SampleBatch;

/**
 * Lets samples of an open window wait in the ring, and follows them later in one go ({@link OpenWindow#follow}, {@link
 * Stillness#follow}): that gives the same, for nothing but being remembered can come of them.
 *
 * <p><b>Why nothing can.</b> What a mean may decide needs a low one, in a share of the peak, as the window says itself ({@link
 * OpenWindow#quietAboveN}), or a time: the end of a block of {@link Stillness}, or what the caller waits for. Means of samples
 * within a {@link Band} are within it themselves.
 *
 * <p><b>Cost.</b> One comparison a sample, nothing allocated.
 */
final class OpenWait {
    private static final double ROOM = 1.5; // For the force to grow before the band is drawn anew.

    private final TraceBuffer raw;
    private final Smoother smoother;
    private final Stillness stillness;
    private final int mostBehind;
    private final Band band = new Band();

    /**
     * Makes one.
     *
     * @param raw the ring of samples.
     * @param smoother what smooths them; nothing reads its means while samples wait.
     * @param stillness what is gathered of the window.
     * @param mostBehind most samples to let wait.
     */
    OpenWait(TraceBuffer raw, Smoother smoother, Stillness stillness, int mostBehind) {
        this.raw = raw;
        this.smoother = smoother;
        this.stillness = stillness;
        this.mostBehind = mostBehind;
    }

    /**
     * Tells whether a batch may be put into the ring without looking at its samples one by one.
     *
     * @param window the open window, its end not seen.
     * @param batch the batch.
     * @param dueNs time from which on something may be decided whatever the force is.
     */
    boolean mayWait(OpenWindow window, SampleBatch batch, long dueNs) {
        if (isDue(batch, Math.min(dueNs, stillness.blockEndNs()))) {
            return false;
        }
        return goesOn(window, batch) || (begin() && setBelowPeak(window, batch) && fits(batch));
    }

    /**
     * Does the same for a window whose end was seen.
     *
     * @param riseN height above which it goes on after all.
     */
    boolean mayWaitForTail(OpenWindow window, SampleBatch batch, long dueNs, double riseN) {
        if (isDue(batch, dueNs)) {
            return false;
        }
        if (goesOn(window, batch)) {
            return true;
        }
        band.set(-Double.MAX_VALUE, window.restN() + riseN);
        return begin() && fits(batch);
    }

    private boolean isDue(SampleBatch batch, long dueNs) {
        return batch.count > mostBehind || batch.has(SampleBatch.GAP_BEFORE) || batch.timeNs[batch.count - 1] >= dueNs;
    }

    /** Tells whether a batch joins others that wait; those that it does not join are followed. */
    private boolean goesOn(OpenWindow window, SampleBatch batch) {
        long behind = smoother.behind();
        if (behind > 0 && behind + batch.count <= mostBehind && band.holds(batch)) {
            return true;
        }
        catchUp(window);
        return false;
    }

    private boolean begin() {
        return smoother.steady(Math.max(stillness.lag(), smoother.width()));
    }

    private boolean fits(SampleBatch batch) {
        return band.holdsNewest(raw, smoother.width()) && band.holds(batch);
    }

    private boolean setBelowPeak(OpenWindow window, SampleBatch batch) {
        double restN = window.restN();
        double topN = restN + window.peakN();
        for (int i = 0; i < batch.count; i++) {
            topN = batch.forceN[i] > topN ? batch.forceN[i] : topN;
        }
        double mostN = ROOM * (topN - restN);
        double leastN = window.quietAboveN(mostN);
        band.set(restN + leastN, restN + mostN);
        return leastN < mostN;
    }

    /** Follows the samples that wait. */
    void catchUp(OpenWindow window) {
        if (smoother.behind() > 0) {
            long from = smoother.means().end();
            smoother.catchUp();
            window.follow(raw, smoother.means(), from);
            stillness.follow(from, window.restN());
        }
    }
}
