package io.heldmark.align;

/**
 * What pings add: a bound from the other side.
 *
 * <p><b>Bounds.</b> No ping is received before it was sent and nothing arrives before it was transmitted. In the plane of
 * {@link EnvelopeWindow} the true line therefore lies above every point of the way down and below every point of the way
 * up. The distance {@code W} between the highest of the first and the lowest of the second is the smallest two-way time
 * that the exchanges prove; taking the minimum of each direction by itself can only be sharper than the round trip of the
 * single best exchange.
 *
 * <p><b>Where between.</b> {@code W = d + d + h + e}: an unavoidable delay {@code d}, taken as equal both ways; a wait
 * {@code h} hidden in the way up, 0 to what {@link ArrivalPhase} could not rule out; a wait {@code e} left in the way down,
 * which shrinks as one over the number of pings because the station sends them at random times. So {@code d} lies between
 * {@code (W - h - e) / 2} and {@code W / 2}. Within these limits short delays are more likely than long ones; the estimate is
 * the mean of an exponential distribution of {@value #TYPICAL_DELAY_NS} ns, cut to the limits. (The wait of a locked link
 * then goes to the way up, where it belongs, and a link without rhythm is halved. Half the value favoured short delays so
 * much that on a 50 ms link whose waits were nearly swept only nine intervals of ten covered the truth.)
 *
 * <p><b>Uncertainty.</b> Rectangular over the limits of {@code d}, taken about the estimate; rectangular over
 * {@code 0 .. 2d + h}, and at most {@code W}, for the assumption of equal ways; rectangular for {@code e}. (Where packets
 * and link keep step, what is taken for a wait of the way up may as well be time that a radio wants to have a ping
 * before it can go: a constant delay of the way down.)
 *
 * <p><b>Source.</b> Minimum filter as in RFC 5905 (NTP version 4), section 10, there on round trips; uncertainties by the
 * Guide to the Expression of Uncertainty in Measurement (JCGM 100:2008) 4.3.7. The exponential weight is common sense
 * without a published source.
 */
final class TwoWayBound {
    static final int ENOUGH = 8;
    static final double TYPICAL_DELAY_NS = 1e6;

    private static final double SMOOTHING = 1 / 32.0;
    private static final double SMALLEST_OF_MANY = 6;

    private final EnvelopeWindow down = new EnvelopeWindow();
    private double meanWaitNs;
    private double lineOffset = Double.NEGATIVE_INFINITY;
    private double offset;
    private double uncertaintyNs;
    private double constantNs;
    private double standingNs2;

    /** Forgets everything. */
    void clear() {
        down.clear();
        meanWaitNs = 0;
        lineOffset = Double.NEGATIVE_INFINITY;
    }

    /** Takes a ping: device time of its reception, and station time of its sending minus that, from the anchor. */
    void add(double receivedX, double sentZ, double skew) {
        down.add(receivedX, -sentZ, -skew);
        double waitNs = lineOffset + skew * receivedX - sentZ;
        if (waitNs > 0 && waitNs <= Double.MAX_VALUE) {
            meanWaitNs += SMOOTHING * (waitNs - meanWaitNs);
        }
    }

    /** Fits the window of the way down. */
    void fit() {
        down.fit();
    }

    /** Tells whether there are enough pings for an estimate. */
    boolean ready() {
        return down.points() >= ENOUGH;
    }

    /** Returns the skew that the pings alone show. */
    double skew() {
        return -down.skew();
    }

    EnvelopeWindow window() {
        return down;
    }

    /**
     * Finds the offset between the bounds.
     *
     * @param upOffset offset of the line that touches the way up.
     * @param skew skew of both lines.
     * @param skewUncertainty standard uncertainty of the skew.
     * @param nowX device time for which the estimate is made.
     * @param hiddenNs wait that may hide in the way up.
     */
    void solve(double upOffset, double skew, double skewUncertainty, double nowX, double hiddenNs) {
        lineOffset = -down.offset(-skew, nowX, skewUncertainty);
        double width = upOffset - lineOffset;
        double leftNs = Math.min(SMALLEST_OF_MANY * meanWaitNs / down.points(), Math.max(0, width));
        double highest = Math.max(0, width / 2);
        double lowest = Math.max(0, (width - hiddenNs - leftNs) / 2);
        double delayNs = typical(lowest, highest);
        offset = lineOffset + Math.min(delayNs + leftNs / 3, Math.max(width, width / 2));
        double leverNs = skewUncertainty * (nowX - down.touchX());
        double crossedNs = Math.min(0, width);
        double constantNs2 = secondMoment(0, Math.max(delayNs, Math.min(width, 2 * delayNs + hiddenNs)), delayNs);
        constantNs = Math.sqrt(constantNs2);
        standingNs2 = secondMoment(lowest, highest, delayNs);
        uncertaintyNs =
                Math.sqrt(standingNs2 + constantNs2 + leftNs * leftNs / 12 + leverNs * leverNs + crossedNs * crossedNs);
    }

    /** Returns the offset of the line that touches the way down, as of the last {@link #solve}. */
    double lineOffset() {
        return lineOffset;
    }

    /** Returns the offset found. */
    double offset() {
        return offset;
    }

    /** Returns its standard uncertainty, in nanoseconds. */
    double uncertaintyNs() {
        return uncertaintyNs;
    }

    /** Returns the part of the uncertainty that the assumption of equal ways brings, in nanoseconds. */
    double constantNs() {
        return constantNs;
    }

    /** Returns the variance of where between the limits the delay lies, in nanoseconds squared. */
    double standingNs2() {
        return standingNs2;
    }

    /** Mean of the exponential distribution cut to {@code [low, high]}. */
    private static double typical(double low, double high) {
        double width = (high - low) / TYPICAL_DELAY_NS;
        if (width < 1e-3) {
            return (low + high) / 2;
        }
        return low + TYPICAL_DELAY_NS * (1 - width / StrictMath.expm1(width));
    }

    /** Mean square distance from {@code at} of a rectangular distribution over {@code [low, high]}. */
    private static double secondMoment(double low, double high, double at) {
        double above = high - at;
        double below = at - low;
        return (above * above - above * below + below * below) / 3;
    }
}
