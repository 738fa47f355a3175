package io.heldmark.simulator.force;

import io.heldmark.simulator.scenario.EffortSpec.ReleaseShape;

/**
 * How a force goes: 1 at the start of the release, 0 at its end.
 *
 * @param shape its course.
 * @param durationS smooth: time until the force is gone; exponential: three times the slow stage's time constant; seconds.
 */
record Release(ReleaseShape shape, double durationS) {
    /** Fast stage over slow stage of the exponential release. */
    private static final double FAST_RATIO = 0.3;

    /** Below this share of the force an exponential release is over. */
    private static final double END = 1e-6;

    /** Returns what is left at a time since the start of the release, in seconds. */
    double left(double timeS) {
        if (timeS <= 0) {
            return 1;
        }
        if (shape == ReleaseShape.SMOOTH) {
            return 1 - Curves.step(timeS / durationS);
        }
        double left = 1 - Curves.twoStages(timeS, durationS / 3, FAST_RATIO * durationS / 3);
        return left < END ? 0 : left;
    }

    /** Returns when nothing is left, in seconds. */
    double endS() {
        // ln(1e6) = 13.8 time constants and a bit for the fast stage.
        return shape == ReleaseShape.SMOOTH ? durationS : durationS / 3 * 14.3;
    }
}
