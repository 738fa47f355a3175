package io.heldmark.model;

import org.jspecify.annotations.Nullable;

/**
 * Where the alignment of two cells by a knock stands.
 *
 * @param state what it is doing.
 * @param leftChannel station-wide number of the left cell's channel; -1 where none was named yet.
 * @param rightChannel that of the right one.
 * @param reason why it was refused or lost, in plain words; absent otherwise.
 * @param count knocks that the alignment stands on; 0 without one.
 * @param offsetNs mean by how much later the left cell's clock had put the knocks than the right one's, in nanoseconds.
 * @param offsetStandardUncertaintyNs of that, from noise, sampling and scatter.
 * @param standardDeviationNs of the knocks; NaN below two.
 * @param clocksStandardUncertaintyNs of the difference between both clocks as they are in use now; NaN where not known.
 * @param untiedStandardUncertaintyNs what that would be without the knocks; NaN where not known.
 */
public record TapState(
        State state,
        int leftChannel,
        int rightChannel,
        @Nullable String reason,
        int count,
        double offsetNs,
        double offsetStandardUncertaintyNs,
        double standardDeviationNs,
        double clocksStandardUncertaintyNs,
        double untiedStandardUncertaintyNs) {
    /** What it is doing. */
    public enum State {
        /** Nobody asked yet. */
        NONE,
        /** Waits for a knock. */
        LISTENING,
        /** A knock was measured, and both clocks go by it. */
        MEASURED,
        /** The last request came to nothing; earlier knocks still count. */
        REFUSED,
        /** What was measured does not hold any more. */
        LOST
    }

    /** Nobody asked yet. */
    public static final TapState NONE =
            new TapState(State.NONE, -1, -1, null, 0, Double.NaN, Double.NaN, Double.NaN, Double.NaN, Double.NaN);
}
