package io.heldmark.simulator.scenario;

import com.fasterxml.jackson.annotation.JsonProperty;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Something that moves the force and is no effort.
 *
 * @param kind what happens.
 * @param atS when, in seconds.
 * @param repeat absent for once.
 * @param limbs limbs that it happens to; empty for all.
 * @param forceN its size, in newtons.
 * @param durationS its length, in seconds.
 */
public record DisturbanceSpec(
        Kind kind, Range atS, @Nullable RepeatSpec repeat, List<String> limbs, Range forceN, Range durationS) {
    /** What happens. */
    public enum Kind {
        /** A knock that rings. */
        @JsonProperty("bump")
        BUMP,
        /** One knock on what carries all its limbs: at one instant and of one shape, each gets its own share. */
        @JsonProperty("strike")
        STRIKE,
        /** One twitch of the muscle. */
        @JsonProperty("twitch")
        TWITCH,
        /** Someone pulls at the cuff. */
        @JsonProperty("tug")
        TUG,
        /** A weight comes onto the cell and stays. */
        @JsonProperty("laidDown")
        LAID_DOWN,
        /** A weight goes off the cell. */
        @JsonProperty("lifted")
        LIFTED
    }
}
