package io.heldmark.simulator.sender;

import java.time.Instant;
import java.util.concurrent.locks.LockSupport;

/** Ties virtual time to the monotonic clock, at a speed. The only class here that reads the system's clocks. */
public final class Pace {
    private final long startNanos;
    private final double speed;
    private final Instant startedAt;

    /**
     * Begins at virtual time 0 now.
     *
     * @param speed how fast virtual time runs, greater than 0; 1 is real time.
     */
    public Pace(double speed) {
        this.speed = speed;
        startedAt = Instant.now();
        startNanos = System.nanoTime();
    }

    /** Returns virtual time now, in nanoseconds. */
    public long nowNs() {
        return (long) ((System.nanoTime() - startNanos) * speed);
    }

    /** Returns how long to wait until a virtual time, in real nanoseconds; not positive where it is past. */
    long waitNs(long virtualNs) {
        return (long) (virtualNs / speed) - (System.nanoTime() - startNanos);
    }

    /** Returns the wall-clock time of virtual time 0, in nanoseconds since 1970. */
    public long startUnixNs() {
        return startedAt.getEpochSecond() * 1_000_000_000L + startedAt.getNano();
    }

    /** Rests the calling thread for about this long, in real milliseconds. */
    static void rest(long ms) {
        LockSupport.parkNanos(ms * 1_000_000L);
    }
}
