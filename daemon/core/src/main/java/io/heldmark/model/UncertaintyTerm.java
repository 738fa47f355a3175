package io.heldmark.model;

/**
 * One part of a device uncertainty, already in the unit of the value it belongs to.
 *
 * @param source where it comes from.
 * @param standardUncertainty its standard uncertainty (k = 1), finite and not negative.
 * @param degreesOfFreedom degrees of freedom of that figure, at least 1; infinite where it is taken as exactly known.
 */
public record UncertaintyTerm(UncertaintySource source, double standardUncertainty, double degreesOfFreedom) {
    /** Rejects what is not a number. */
    public UncertaintyTerm {
        if (!(standardUncertainty >= 0 && standardUncertainty <= Double.MAX_VALUE)) {
            throw new IllegalArgumentException(
                    "standardUncertainty must be finite and not negative: " + source.id() + "=" + standardUncertainty);
        }
        if (!(degreesOfFreedom >= 1)) {
            throw new IllegalArgumentException(
                    "degreesOfFreedom is at least 1: " + source.id() + "=" + degreesOfFreedom);
        }
    }
}
