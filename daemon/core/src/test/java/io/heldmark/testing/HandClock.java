package io.heldmark.testing;

import io.heldmark.time.StationClock;
import java.util.concurrent.atomic.AtomicLong;

/** A clock that stands still until a test moves it; any thread. */
public final class HandClock implements StationClock {
    private static final long WALL_ANCHOR_NS = 1_767_225_600_000_000_000L; // 2026-01-01T00:00:00Z

    private final AtomicLong nowNs = new AtomicLong();

    @Override
    public long nowNs() {
        return nowNs.get();
    }

    @Override
    public long wallAnchorNs() {
        return WALL_ANCHOR_NS;
    }

    /** Moves on. */
    public void advance(long ns) {
        nowNs.addAndGet(ns);
    }
}
