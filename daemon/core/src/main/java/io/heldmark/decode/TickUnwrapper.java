package io.heldmark.decode;

/**
 * Turns a device's 32-bit tick into one that does not wrap, by the arrival of the bytes that carry it.
 *
 * <p><b>Method.</b> The tick expected at an arrival is the newest tick plus the time since its arrival, in ticks. Of all
 * numbers that agree with the 32 bits the one nearest to the expectation is taken: right as long as an arrival is late by
 * less than half a wrap (35 minutes at 1 MHz, 21 s at 100 MHz).
 *
 * <p><b>Threading.</b> Single writer.
 */
final class TickUnwrapper {
    private final double tickRateHz;
    private boolean started;
    private long newestTick;
    private long newestArrivalNs;

    /** Makes an unwrapper for a counter of this rate, in hertz. */
    TickUnwrapper(double tickRateHz) {
        this.tickRateHz = tickRateHz;
    }

    /** Returns the unwrapped tick without taking note of it; the 32 bits themselves before the first note. */
    long unwrap(long tick, long arrivalNs) {
        if (!started) {
            return tick;
        }
        long expected = expectedTick(arrivalNs);
        return expected + (int) (tick - expected); // the cast keeps the low 32 bits as a signed distance
    }

    /** Returns how far an unwrapped tick is ahead of what its arrival lets expect, in seconds. */
    double aheadS(long unwrappedTick, long arrivalNs) {
        return started ? (unwrappedTick - expectedTick(arrivalNs)) / tickRateHz : 0;
    }

    /** Takes an unwrapped tick as the newest. */
    void note(long unwrappedTick, long arrivalNs) {
        started = true;
        newestTick = unwrappedTick;
        newestArrivalNs = arrivalNs;
    }

    private long expectedTick(long arrivalNs) {
        return newestTick + (long) ((arrivalNs - newestArrivalNs) * 1e-9 * tickRateHz);
    }
}
