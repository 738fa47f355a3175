package io.heldmark.calibration;

/**
 * A relative value, or the reason why there is none.
 *
 * @param value in per cent; NaN where there is none.
 * @param notComputed the reason; empty where there is a value.
 */
public record Percent(double value, String notComputed) {
    static Percent of(double value) {
        return new Percent(value, "");
    }

    static Percent none(String why) {
        return new Percent(Double.NaN, why);
    }

    /** Tells whether there is a value. */
    public boolean known() {
        return notComputed.isEmpty();
    }
}
