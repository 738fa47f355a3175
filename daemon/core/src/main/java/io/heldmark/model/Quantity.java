package io.heldmark.model;

/**
 * A measured value with its device uncertainty.
 *
 * @param value the value, finite.
 * @param standardUncertainty standard uncertainty of the device's part (k = 1), finite and not negative; never the repeat
 *     error of people, which is another thing.
 * @param unit unit symbol, SI, for example {@code N}.
 */
public record Quantity(double value, double standardUncertainty, String unit) {
    /** Rejects what is not a number. */
    public Quantity {
        if (!(Math.abs(value) <= Double.MAX_VALUE)) {
            throw new IllegalArgumentException("value must be finite: value=" + value);
        }
        if (!(standardUncertainty >= 0 && standardUncertainty <= Double.MAX_VALUE)) {
            throw new IllegalArgumentException(
                    "standardUncertainty must be finite and not negative: standardUncertainty=" + standardUncertainty);
        }
    }
}
