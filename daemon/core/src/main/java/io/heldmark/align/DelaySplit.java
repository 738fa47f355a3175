package io.heldmark.align;

/**
 * By how much the constant delay of the way up may exceed that of the way down, where both ways meet at the link's events.
 *
 * <p><b>Bounds.</b> Let {@code m} be the line of {@link EventMatch}, {@code t} the true one: {@code m = t + up - down}. Nothing
 * arrives before the line that touches the arrivals from below, and no ping is received before the line that touches
 * the pings from above: so {@code down} is at most the distance of the first above {@code m}, {@code up} at most that of
 * the second below it. Where waits make a distance long, a delay is taken to be at most an assumed one.
 *
 * <p><b>Estimate.</b> Equal delays. The standard uncertainty is that of a rectangular distribution over the differences
 * that the bounds allow, taken about zero.
 *
 * <p><b>Source.</b> Guide to the Expression of Uncertainty in Measurement (JCGM 100:2008) 4.3.7; the bounds are our own.
 */
final class DelaySplit {
    /** By how much the touching lines may contradict the match before it is given up, in nanoseconds. */
    static final double CROSSED_NS = 1e6;

    private DelaySplit() {}

    /** Tells whether neither line contradicts the match: else this is no link that carries both ways at once. */
    static boolean possible(double aboveNs, double belowNs) {
        return aboveNs >= -CROSSED_NS && belowNs >= -CROSSED_NS;
    }

    /**
     * Returns the standard uncertainty of the assumption of equal delays, in nanoseconds.
     *
     * @param aboveNs distance of the line of arrivals above the match.
     * @param belowNs distance of the line of pings below it.
     * @param assumedNs largest delay that is assumed.
     */
    static double uncertaintyNs(double aboveNs, double belowNs, double assumedNs) {
        double down = Math.min(Math.abs(aboveNs), assumedNs);
        double up = Math.min(Math.abs(belowNs), assumedNs);
        return Math.sqrt((up * up - up * down + down * down) / 3);
    }
}
