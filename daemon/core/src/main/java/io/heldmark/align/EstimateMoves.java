package io.heldmark.align;

/**
 * How far a mapping may have moved since a moment without any movement of the device's clock.
 *
 * <p>Three things move it. Its <em>moving</em> part: what the estimate from a bounded stretch of arrivals is uncertain by. A
 * change of <em>method</em>: another guess at the same constant delay; the step is known and is told apart, uncertain by the
 * moving parts before and after. Its <em>standing</em> part: a wait that no arrival shows because packets and link keep step. It
 * stays as long as they do; where the doubt about it shrinks or grows, the estimate may have moved by as much. On a radio,
 * whose rhythm has a clock of its own, it walks, by at most {@value #WALK} of the time (two crystals, {@link
 * SkewChoice#CRYSTAL_SKEW} each).
 */
final class EstimateMoves {
    static final double WALK = 85e-6;

    private double beganX;
    private double methodNs;
    private double varianceNs2;
    private double standingBaseNs2;
    private double movingNs2;
    private double standingNs2;

    /** Begins to count, at a device time. */
    void begin(double x) {
        beganX = x;
        methodNs = 0;
        varianceNs2 = 0;
        standingBaseNs2 = standingNs2;
    }

    /** Takes an estimate of the same method as before. */
    void onEstimate(double moving, double standing) {
        movingNs2 = moving;
        standingNs2 = standing;
    }

    /** Takes the first estimate of another method, and the step that it made. */
    void onMethod(double stepNs, double moving, double standing) {
        methodNs += stepNs;
        varianceNs2 += movingNs2 + moving + Math.abs(standingNs2 - standingBaseNs2);
        standingBaseNs2 = standing;
        onEstimate(moving, standing);
    }

    /** Returns the sum of the steps, in nanoseconds. */
    double methodNs() {
        return methodNs;
    }

    /** Returns the variance of everything that may have moved it, the moving part of now included, in nanoseconds squared. */
    double varianceNs2(double x, boolean radio) {
        double walkNs = WALK * Math.max(0, x - beganX);
        double walked = radio ? Math.min(walkNs * walkNs, 2 * standingNs2) : 0;
        return varianceNs2 + Math.abs(standingNs2 - standingBaseNs2) + walked + movingNs2;
    }

    /** Returns the moving part of now, in nanoseconds squared. */
    double movingNs2() {
        return movingNs2;
    }
}
