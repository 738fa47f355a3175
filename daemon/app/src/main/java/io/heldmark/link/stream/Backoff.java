package io.heldmark.link.stream;

/**
 * Waiting times between attempts to connect: 0.2 s, doubled each time up to 5 s.
 *
 * <p>The first is short enough that a cable put back in is not noticed as a wait; the last is long enough that a device
 * switched off over night costs nothing. Common practice, no published source.
 */
final class Backoff {
    static final long FIRST_MS = 200;
    static final long LAST_MS = 5000;

    private long nextMs = FIRST_MS;

    /** Returns how long to wait now, in milliseconds, and lengthens the next wait. */
    long nextMs() {
        long waitMs = nextMs;
        nextMs = Math.min(LAST_MS, nextMs * 2);
        return waitMs;
    }

    /** Starts again with the shortest wait. */
    void reset() {
        nextMs = FIRST_MS;
    }
}
