package io.heldmark.live;

/**
 * Decides whether a viewer gets every sample or pairs of minimum and maximum.
 *
 * <p><b>Rule.</b> Reduced as soon as the trace that waits is longer than the limit, or the viewer acknowledges its
 * drawing and is behind with it by more than {@value #PAINT_LIMIT_FACTOR} times the limit. Full again once it has been
 * behind by less than a quarter of the limit for {@value #RECOVERY_S} s.
 *
 * <p><b>Threading.</b> One thread at a time.
 */
final class Delivery {
    private static final int PAINT_LIMIT_FACTOR = 4;
    private static final int RECOVERY_S = 3;

    private final long limitNs;
    private boolean reduced;
    private boolean recovering;
    private long recoveringSinceNs;

    Delivery(long limitNs) {
        this.limitNs = limitNs;
    }

    /**
     * Takes how far the viewer is behind now.
     *
     * @param backlogNs trace that waits.
     * @param unpaintedNs age of the oldest message that it has not drawn; 0 where it never acknowledged one.
     * @param nowNs station time.
     * @return whether the answer of {@link #reduced()} changed.
     */
    boolean onBacklog(double backlogNs, long unpaintedNs, long nowNs) {
        boolean before = reduced;
        if (backlogNs > limitNs || unpaintedNs > PAINT_LIMIT_FACTOR * limitNs) {
            reduced = true;
            recovering = false;
        } else if (reduced) {
            recover(backlogNs < limitNs / 4.0 && unpaintedNs < limitNs, nowNs);
        }
        return reduced != before;
    }

    boolean reduced() {
        return reduced;
    }

    private void recover(boolean keepsUp, long nowNs) {
        if (!keepsUp) {
            recovering = false;
        } else if (!recovering) {
            recovering = true;
            recoveringSinceNs = nowNs;
        } else if (nowNs - recoveringSinceNs >= RECOVERY_S * 1_000_000_000L) {
            reduced = false;
            recovering = false;
        }
    }
}
