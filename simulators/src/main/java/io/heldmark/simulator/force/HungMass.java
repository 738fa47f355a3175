package io.heldmark.simulator.force;

/**
 * A dead weight that hangs on a limb's cell in place of the limb, from a moment on.
 *
 * <p>The force goes over in {@value #SETTLING_S} s, ringing as a weight does that is laid down ({@link Disturbance}).
 *
 * @param fromS when it is put on, in seconds.
 * @param beforeN what was on the cell before, in newtons.
 * @param weightN what hangs there, in newtons; 0 for nothing.
 */
record HungMass(double fromS, double beforeN, double weightN) {
    private static final double SETTLING_S = 0.8;

    /** Returns the force at a time from {@link #fromS} on, in newtons. */
    double forceN(double timeS) {
        return beforeN + (weightN - beforeN) * Disturbance.settled((timeS - fromS) / SETTLING_S);
    }
}
