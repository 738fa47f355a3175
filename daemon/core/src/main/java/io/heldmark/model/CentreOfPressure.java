package io.heldmark.model;

import org.jspecify.annotations.Nullable;

/**
 * Where the force on a plate acts.
 *
 * @param x place along x in millimetres, with its device uncertainty; absent where it is not measured.
 * @param y place along y, likewise.
 * @param notMeasured why it is not measured, in plain words; absent where it is.
 */
public record CentreOfPressure(
        @Nullable Quantity x,
        @Nullable Quantity y,
        @Nullable String notMeasured) {
    /** Says why there is none. */
    public static CentreOfPressure none(String why) {
        return new CentreOfPressure(null, null, why);
    }
}
