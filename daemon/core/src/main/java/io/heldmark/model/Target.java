package io.heldmark.model;

/**
 * A target force that viewers show as a band.
 *
 * @param forceN the target, in newtons, finite.
 * @param tolerancePercent half the width of the band, in per cent of the target, 0 to 100.
 */
public record Target(double forceN, double tolerancePercent) {
    /** Rejects what cannot be drawn. */
    public Target {
        if (!(Math.abs(forceN) <= 1e6)) {
            throw new IllegalArgumentException("forceN out of range: forceN=" + forceN);
        }
        if (!(tolerancePercent >= 0 && tolerancePercent <= 100)) {
            throw new IllegalArgumentException("tolerancePercent is 0 to 100: tolerancePercent=" + tolerancePercent);
        }
    }
}
