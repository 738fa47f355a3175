package io.heldmark.model;

import org.jspecify.annotations.Nullable;

/**
 * What a channel reads now, for large steady figures.
 *
 * @param channel station-wide channel number.
 * @param state {@code rest}, {@code contraction}, {@code uncalibrated} or {@code lost}.
 * @param force mean of the last 100 ms with its device uncertainty; absent where there are no samples.
 * @param centre where the force acts, or why that is not measured; absent where the channel is no plate whose cells have places.
 */
public record Level(
        int channel,
        String state,
        @Nullable Quantity force,
        @Nullable CentreOfPressure centre) {
    /** Makes the level of a channel that is no plate. */
    public Level(int channel, String state, @Nullable Quantity force) {
        this(channel, state, force, null);
    }
}
