package io.heldmark.pipeline;

import io.heldmark.config.Config;
import io.heldmark.config.LeverSpec;
import io.heldmark.config.StationSettings;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Limb;
import io.heldmark.model.TestConditions;
import io.heldmark.model.TestConditions.Gravity;
import io.heldmark.model.TrialConditions;
import java.util.List;
import java.util.Locale;

/**
 * Lever arms and weights of limbs that the setting {@code channels.levers} gives to channels.
 *
 * <p><b>Precedence.</b> What is said of a trial (a lever arm, a rule about gravity) stands; the setting fills in what is not said.
 * A channel's own name goes before its limb's.
 */
final class Levers {
    private final List<LeverSpec> specs;

    /** Reads the setting, which has been checked. */
    Levers(StationSettings settings) {
        specs = LeverSpec.parse(Config.CHANNELS_LEVERS.key(), settings.text(Config.CHANNELS_LEVERS));
    }

    /** Returns what holds for the trials of a channel. */
    TrialConditions of(ChannelInfo channel, TrialConditions said) {
        for (boolean byName : new boolean[] {true, false}) {
            for (LeverSpec spec : specs) {
                if (byName ? isNameOf(spec, channel) : isLimbOf(spec, channel)) {
                    return onsetNs -> with(spec, said.at(onsetNs));
                }
            }
        }
        return said;
    }

    private static boolean isNameOf(LeverSpec spec, ChannelInfo channel) {
        return spec.name().equals(channel.name());
    }

    private static boolean isLimbOf(LeverSpec spec, ChannelInfo channel) {
        return channel.limb() != Limb.NONE
                && spec.name().equals(channel.limb().name().toLowerCase(Locale.ROOT));
    }

    private static TestConditions with(LeverSpec spec, TestConditions said) {
        TestConditions.Builder filled = said.toBuilder();
        if (Double.isNaN(said.leverArmM())) {
            filled.leverArmM(spec.armM(), spec.armStandardUncertaintyM());
        }
        if (said.gravity() == Gravity.UNKNOWN && spec.gravitySign() != 0) {
            filled.gravity(
                    spec.gravitySign() > 0 ? Gravity.ADD : Gravity.SUBTRACT,
                    spec.gravityTorqueNm(),
                    spec.gravityTorqueStandardUncertaintyNm());
        }
        return filled.build();
    }
}
