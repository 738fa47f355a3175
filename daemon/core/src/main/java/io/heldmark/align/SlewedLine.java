package io.heldmark.align;

/**
 * The line that maps device time to station time, moved without a jump when the estimate moves.
 *
 * <p>Station time of device time {@code x} is {@code x + offset + skew x + rest(x)}. A new estimate takes effect at the
 * newest device time that was mapped: there {@code rest} makes up the difference to the old line, and it falls to zero
 * evenly within {@value #SLEW_NS} ns, or more slowly where the difference is so large that time would run more than
 * {@value #STEEPEST} too fast or too slow. So the mapping is continuous and strictly increasing for any sequence of
 * estimates whose skew is within {@value #STEEPEST_SKEW}; a correction of 1 ms stretches the trace by 0.1 % for a
 * second.
 */
final class SlewedLine {
    static final double SLEW_NS = 1e9;
    static final double STEEPEST = 0.5;
    static final double STEEPEST_SKEW = 0.2;

    private double offset;
    private double skew;
    private double sinceX;
    private double restNs;
    private double slewNs = SLEW_NS;
    private double restSlope; // Of the rest while it falls: one division a move, not one a sample.

    /** Sets the line outright; device times from {@code fromX} on map to no less than {@code notBeforeNs}. */
    void jump(double newOffset, double newSkew, double fromX, double notBeforeNs) {
        offset = newOffset;
        skew = clampSkew(newSkew);
        begin(fromX, Math.max(0, notBeforeNs - (fromX + offset + skew * fromX)));
    }

    /** Moves to a new line without a jump at {@code atX}. */
    void move(double newOffset, double newSkew, double atX) {
        double before = at(atX);
        offset = newOffset;
        skew = clampSkew(newSkew);
        begin(atX, before - (atX + offset + skew * atX));
    }

    /** Returns the station time of a device time. */
    double at(double x) {
        return x + offset + skew * x + restNs(x);
    }

    /** Returns how far the mapping still is from the estimate. */
    double restNs(double x) {
        if (x <= sinceX) {
            return restNs;
        }
        double goneNs = x - sinceX;
        return goneNs >= slewNs ? 0 : restNs + goneNs * restSlope;
    }

    /** Returns the station time that passes in a unit of device time, from a device time on. */
    double slope(double x) {
        double goneNs = x - sinceX;
        return 1 + skew + (goneNs < 0 || goneNs >= slewNs ? 0 : restSlope);
    }

    private void begin(double x, double rest) {
        sinceX = x;
        restNs = rest;
        slewNs = Math.max(SLEW_NS, Math.abs(rest) / STEEPEST);
        restSlope = -rest / slewNs;
    }

    private static double clampSkew(double value) {
        return Math.max(-STEEPEST_SKEW, Math.min(STEEPEST_SKEW, value));
    }
}
