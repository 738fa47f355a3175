package io.heldmark.simulator.truth;

import java.util.List;
import java.util.function.DoubleUnaryOperator;

/**
 * What really happened on a channel.
 *
 * @param index its number.
 * @param name its name.
 * @param limb the limb whose force it carries.
 * @param share its share of that force.
 * @param countsPerNewton true sensitivity, in counts per newton.
 * @param zeroCounts true reading of the unloaded cell, in counts.
 * @param contractions the contractions that began, by rising time.
 * @param disturbances what else moved the force, by rising time.
 * @param force force on the channel in newtons at a true time in seconds, disturbances included, noise and hum not.
 */
public record ChannelTruth(
        int index,
        String name,
        String limb,
        double share,
        double countsPerNewton,
        int zeroCounts,
        List<ContractionTruth> contractions,
        List<DisturbanceTruth> disturbances,
        DoubleUnaryOperator force) {
    /** Returns the force on the channel at a true time, in newtons; disturbances included, noise and hum not. */
    public double forceN(double timeS) {
        return force.applyAsDouble(timeS);
    }
}
