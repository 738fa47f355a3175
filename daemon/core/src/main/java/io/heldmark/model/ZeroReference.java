package io.heldmark.model;

/**
 * What the forces of a channel are relative to.
 *
 * @param taken whether a session zero was taken; without one forces are relative to the calibration's own zero.
 * @param levelN the level that is subtracted, relative to the calibration's own zero, in newtons.
 * @param standardUncertaintyN its standard uncertainty, in newtons.
 * @param atNs station time at which it was taken.
 */
public record ZeroReference(boolean taken, double levelN, double standardUncertaintyN, long atNs) {
    /** No session zero. */
    public static final ZeroReference NONE = new ZeroReference(false, 0, 0, 0);

    /** Returns a zero that was taken. */
    public static ZeroReference taken(double levelN, double standardUncertaintyN, long atNs) {
        return new ZeroReference(true, levelN, standardUncertaintyN, atNs);
    }
}
