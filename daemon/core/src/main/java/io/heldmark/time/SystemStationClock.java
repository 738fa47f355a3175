package io.heldmark.time;

import java.time.Instant;
import java.time.ZoneId;

/** Station time from the machine's monotonic clock, with one wall-clock anchor taken when it is made. */
public final class SystemStationClock implements StationClock {
    private final long originNanoTime = System.nanoTime();
    private final long wallAnchorNs;

    /** Starts the station's time at 0. */
    public SystemStationClock() {
        Instant now = Instant.now();
        wallAnchorNs = Math.addExact(Math.multiplyExact(now.getEpochSecond(), 1_000_000_000L), now.getNano());
    }

    @Override
    public long nowNs() {
        return System.nanoTime() - originNanoTime;
    }

    @Override
    public ZoneId zone() {
        return ZoneId.systemDefault();
    }

    @Override
    public long wallAnchorNs() {
        return wallAnchorNs;
    }
}
