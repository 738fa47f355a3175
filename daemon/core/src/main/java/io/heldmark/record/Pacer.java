package io.heldmark.record;

/**
 * Where a replay should be on the recorded time line, for a clock that runs on.
 *
 * <p><b>Formula.</b> position = anchor position + speed x (now - anchor time); every change of speed and every pause sets
 * a new anchor at the position reached, so that neither makes it jump. It never runs ahead of the next item, so that a
 * receiver too slow for the speed leaves no debt behind when the speed changes.
 */
final class Pacer {
    /** Speed at which every item is due at once. */
    static final double AS_FAST_AS_POSSIBLE = 0;

    private double speed;
    private boolean held = true;
    private long anchorClockNs;
    private long anchorPositionNs;

    /** Starts again at a position, held. */
    void reset(long positionNs) {
        held = true;
        anchorPositionNs = positionNs;
    }

    /**
     * Follows what is wanted now.
     *
     * @param nextItemNs recorded time of the next item.
     */
    void follow(double wantedSpeed, boolean wantedHeld, long nextItemNs, long nowNs) {
        if (wantedSpeed == speed && wantedHeld == held) {
            return;
        }
        anchorPositionNs = Math.min(positionNs(nextItemNs, nowNs), nextItemNs);
        anchorClockNs = nowNs;
        speed = wantedSpeed;
        held = wantedHeld;
    }

    /** Returns how long to wait for an item; 0 or less when it is due. Only while not held. */
    long waitNs(long itemNs, long nowNs) {
        if (speed == AS_FAST_AS_POSSIBLE) {
            return 0;
        }
        double dueNs = (itemNs - anchorPositionNs) / speed;
        return (long) Math.ceil(dueNs) - (nowNs - anchorClockNs);
    }

    private long positionNs(long nextItemNs, long nowNs) {
        if (held) {
            return anchorPositionNs;
        }
        if (speed == AS_FAST_AS_POSSIBLE) {
            return nextItemNs;
        }
        return anchorPositionNs + (long) (speed * (nowNs - anchorClockNs));
    }
}
