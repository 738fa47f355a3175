package io.heldmark.simulator.scenario;

import com.fasterxml.jackson.annotation.JsonProperty;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * An effort of one or more limbs. The schema describes every value; ranges are drawn anew for each effort.
 *
 * @param atS onset, in seconds.
 * @param repeat absent for once.
 * @param limbs limbs that make it together; empty for all.
 * @param percentOfMax top of the effort, in percent of the limb's maximal force.
 * @param variationPercent greatest difference of one limb's top, in percent.
 * @param lagS how much later a limb begins, in seconds.
 * @param rise how the force rises.
 * @param holdS time from the top to the release, in seconds.
 * @param fatiguePercentPerS fall of the force, in percent per second.
 * @param release how the force goes.
 * @param earlyReleaseS how much too early the release begins, in seconds.
 * @param preTension force before the onset, or absent.
 * @param countermovement dip before the onset, or absent.
 * @param doubleEffort dip in the middle, or absent.
 * @param catchSpike jerk after a fall, or absent.
 */
public record EffortSpec(
        Range atS,
        @Nullable RepeatSpec repeat,
        List<String> limbs,
        Range percentOfMax,
        double variationPercent,
        Range lagS,
        Rise rise,
        Range holdS,
        Range fatiguePercentPerS,
        Release release,
        Range earlyReleaseS,
        @Nullable PreTension preTension,
        @Nullable Countermovement countermovement,
        @Nullable DoubleEffort doubleEffort,
        @Nullable CatchSpike catchSpike) {

    /** Course of a rise. */
    public enum RiseShape {
        /** Two first-order stages: activation, then muscle and tendon. */
        @JsonProperty("exponential")
        EXPONENTIAL,
        /** Logistic curve, cut at its start. */
        @JsonProperty("sigmoid")
        SIGMOID,
        /** Power of time at the onset, saturating. */
        @JsonProperty("power")
        POWER,
        /** Straight with rounded ends. */
        @JsonProperty("ramp")
        RAMP,
        /** Moment of a body that leans forward. */
        @JsonProperty("lean")
        LEAN
    }

    /** Course of a release. */
    public enum ReleaseShape {
        /** S-shaped, ends at its duration. */
        @JsonProperty("smooth")
        SMOOTH,
        /** Two first-order stages. */
        @JsonProperty("exponential")
        EXPONENTIAL
    }

    /**
     * How the force rises.
     *
     * @param shape its course.
     * @param peakRfdPerS greatest slope, as a multiple of the top per second.
     * @param startRatio exponential: first time constant over the second.
     * @param exponent power: exponent at the onset.
     * @param durationS ramp and lean: length, in seconds.
     * @param breakAngleDeg lean: angle at the break point, in degrees from upright.
     */
    public record Rise(
            RiseShape shape,
            Range peakRfdPerS,
            Range startRatio,
            Range exponent,
            Range durationS,
            Range breakAngleDeg) {}

    /**
     * How the force goes.
     *
     * @param shape its course.
     * @param durationS its length, in seconds.
     */
    public record Release(ReleaseShape shape, Range durationS) {}

    /**
     * Force before the onset.
     *
     * @param forceN its level, in newtons.
     * @param durationS time from its beginning to the onset, in seconds.
     */
    public record PreTension(Range forceN, Range durationS) {}

    /**
     * A dip right before the onset.
     *
     * @param forceN its depth, in newtons.
     * @param durationS its length, in seconds.
     */
    public record Countermovement(Range forceN, Range durationS) {}

    /**
     * A dip in the middle of the effort.
     *
     * @param afterS time from onset to the beginning of the dip, in seconds.
     * @param dipPercent its depth, in percent of the force.
     * @param durationS its length, in seconds.
     */
    public record DoubleEffort(Range afterS, Range dipPercent, Range durationS) {}

    /**
     * A jerk of the cell when a fall is caught.
     *
     * @param forceN its height, in newtons.
     * @param afterS time from the start of the release to it, in seconds.
     * @param durationS its length, in seconds.
     */
    public record CatchSpike(Range forceN, Range afterS, Range durationS) {}
}
