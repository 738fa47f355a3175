package io.heldmark.simulator.force;

/** Small curves that several parts of the force model share. Arguments are fractions of a length; results 0 to 1. */
final class Curves {
    private Curves() {}

    /**
     * Returns the S-shaped step 10u^3 - 15u^4 + 6u^5, 0 before and 1 after.
     *
     * <p>Its first and second derivatives vanish at both ends: the course of a movement of least jerk. Source: Flash &amp;
     * Hogan 1985, J Neurosci 5, 1688-1703 (from memory).
     */
    static double step(double u) {
        if (u <= 0) {
            return 0;
        }
        if (u >= 1) {
            return 1;
        }
        return u * u * u * (10 + u * (6 * u - 15));
    }

    /** Returns the hump 64 (u(1-u))^3, 0 at both ends with slope and curvature 0, 1 in the middle. */
    static double hump(double u) {
        if (u <= 0 || u >= 1) {
            return 0;
        }
        double product = u * (1 - u);
        return 64 * product * product * product;
    }

    /**
     * Returns the step response of two first-order stages, {@code 1 - (a e^(-t/a) - b e^(-t/b)) / (a - b)}.
     *
     * @param timeS time since the step, in seconds; 0 before.
     * @param slowS time constant {@code a} of the slow stage, in seconds.
     * @param fastS time constant {@code b} of the fast stage, in seconds, less than {@code a}; 0 leaves one stage.
     */
    static double twoStages(double timeS, double slowS, double fastS) {
        if (timeS <= 0) {
            return 0;
        }
        double slow = slowS * StrictMath.exp(-timeS / slowS);
        double fast = fastS > 0 ? fastS * StrictMath.exp(-timeS / fastS) : 0;
        return 1 - (slow - fast) / (slowS - fastS);
    }
}
