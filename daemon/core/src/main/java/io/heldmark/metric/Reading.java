package io.heldmark.metric;

/**
 * A force as it is read from a trace: its value, how many samples it is the mean of, and how fast the force changes there.
 *
 * @param forceN the force, relative to the session zero.
 * @param samples number of samples it is the mean of, at least 1.
 * @param spanS the time those samples cover, in seconds; 0 for a single one.
 * @param slopeNPerS rate of change of the force at that instant; 0 where the instant is of no account.
 */
public record Reading(double forceN, double samples, double spanS, double slopeNPerS) {
    /** Returns one sample, or the value on the straight line between two, at an instant. */
    public static Reading at(double forceN, double slopeNPerS) {
        return new Reading(forceN, 1, 0, slopeNPerS);
    }

    /** Returns a mean of samples over a time. */
    public static Reading mean(double forceN, double samples, double spanS) {
        return new Reading(forceN, Math.max(1, samples), spanS, 0);
    }
}
