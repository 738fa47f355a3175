package io.heldmark.record;

import io.heldmark.time.StationClock;

/** A clock that stands still until a test moves it. */
final class ManualClock implements StationClock {
    static final long WALL_ANCHOR_NS = 1_767_225_600_123_456_789L; // 2026-01-01T00:00:00.123456789Z

    private volatile long nowNs;

    @Override
    public long nowNs() {
        return nowNs;
    }

    @Override
    public long wallAnchorNs() {
        return WALL_ANCHOR_NS;
    }

    @SuppressWarnings("NonAtomicVolatileUpdate") // One test thread moves it.
    void advance(long ns) {
        nowNs += ns;
    }
}
