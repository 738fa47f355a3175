package io.heldmark.align;

/**
 * Tells a clock that was set or began anew from a link that was late.
 *
 * <p><b>What is what.</b> Late data keep their ticks in order: after a stall a burst comes whose last frames are on time
 * again. A clock that steps breaks the order of ticks and arrivals at once:
 *
 * <ol>
 *   <li>ticks run ahead of the arrivals by more than the bound from one frame to the next, so that a frame would have
 *       arrived before it was measured; or
 *   <li>ticks go back by more than the bound.
 * </ol>
 *
 * <p>One such frame may be damaged (text lines without a check); it is {@link Verdict#SUSPECT}. The {@value #CONFIRM}th
 * frame in a row that agrees with the first suspect, and not with the estimate, is {@link Verdict#STEPPED}. A frame that
 * agrees with the estimate again is {@link Verdict#RESUMED}. Where ticks stay in order but every frame for
 * {@value #LATE_NS} ns and at least {@value #LATE_FRAMES} frames is later than the bound, the estimate is wrong,
 * whatever the reason: {@link Verdict#STEPPED} too.
 */
final class StepWatch {
    static final int CONFIRM = 5;
    static final double LATE_NS = 5e9;
    static final int LATE_FRAMES = 10;

    enum Verdict {
        /** Agrees with the estimate. */
        NORMAL,
        /** Agrees with it again, after suspects. */
        RESUMED,
        /** First frame that cannot be. */
        SUSPECT,
        /** Another one that agrees with the first suspect. */
        STILL_SUSPECT,
        /** The clock is another one now. */
        STEPPED
    }

    private boolean hasPrevious;
    private double previousX;
    private double previousArrivalNs;
    private int suspects;
    private double suspectZ;
    private int lateFrames;
    private double lateSinceNs;

    /** Forgets everything. */
    void clear() {
        hasPrevious = false;
        suspects = 0;
        lateFrames = 0;
    }

    /**
     * Takes a frame whose disagreement is within any bound, where no suspects are held: {@link #judge} in less time.
     *
     * @return whether it was taken, as {@link Verdict#NORMAL}; if not, it is to be judged.
     */
    boolean takeAgreeing(double x, double arrivalNs) {
        if (suspects > 0) {
            return false;
        }
        hasPrevious = true;
        previousX = x;
        previousArrivalNs = arrivalNs;
        lateFrames = 0;
        return true;
    }

    /**
     * Judges a frame.
     *
     * @param x device time, from the anchor.
     * @param arrivalNs arrival, from the anchor.
     * @param residualNs by how much it arrived after the envelope.
     * @param boundNs largest disagreement that is still taken for the link's.
     */
    Verdict judge(double x, double arrivalNs, double residualNs, double boundNs) {
        boolean broken = hasPrevious && breaksOrder(x, arrivalNs, residualNs, boundNs);
        hasPrevious = true;
        previousX = x;
        previousArrivalNs = arrivalNs;
        if (suspects > 0) {
            return judgeSuspect(arrivalNs - x, residualNs, boundNs);
        }
        if (broken) {
            lateFrames = 0;
            return suspect(arrivalNs - x);
        }
        return judgeLate(arrivalNs, residualNs, boundNs);
    }

    /** Returns the smallest arrival minus device time among the suspects. */
    double suspectZ() {
        return suspectZ;
    }

    private boolean breaksOrder(double x, double arrivalNs, double residualNs, double boundNs) {
        double stepX = x - previousX;
        double aheadNs = stepX - (arrivalNs - previousArrivalNs);
        return (residualNs < -boundNs && aheadNs > boundNs) || (residualNs > boundNs && stepX < -boundNs);
    }

    private Verdict judgeSuspect(double z, double residualNs, double boundNs) {
        if (Math.abs(residualNs) <= boundNs) {
            suspects = 0;
            return Verdict.RESUMED;
        }
        if (Math.abs(z - suspectZ) > boundNs) {
            return suspect(z);
        }
        suspectZ = Math.min(suspectZ, z);
        suspects++;
        return suspects >= CONFIRM ? stepped() : Verdict.STILL_SUSPECT;
    }

    private Verdict judgeLate(double arrivalNs, double residualNs, double boundNs) {
        if (residualNs <= boundNs) {
            lateFrames = 0;
            return Verdict.NORMAL;
        }
        if (lateFrames == 0) {
            lateSinceNs = arrivalNs;
            suspectZ = Double.POSITIVE_INFINITY;
        }
        lateFrames++;
        suspectZ = Math.min(suspectZ, arrivalNs - previousX);
        return lateFrames >= LATE_FRAMES && arrivalNs - lateSinceNs >= LATE_NS ? stepped() : Verdict.NORMAL;
    }

    private Verdict suspect(double z) {
        suspects = 1;
        suspectZ = z;
        return Verdict.SUSPECT;
    }

    private Verdict stepped() {
        suspects = 0;
        lateFrames = 0;
        return Verdict.STEPPED;
    }
}
