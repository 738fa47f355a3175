package io.heldmark.cli;

import io.heldmark.model.TestConditions;
import io.heldmark.pipeline.ConditionFields;
import java.util.LinkedHashMap;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Option;

/** What the user says of the trials in a file; {@link ConditionFields} has the ranges. */
final class ConditionArguments {
    private final Map<String, String> said = new LinkedHashMap<>();

    @Option(
            names = "--lever-arm-m",
            paramLabel = "X",
            description = "Distance from the joint's axis to the line of pull, in metres; gives torques.")
    void leverArmM(@Nullable Double value) {
        say("lever_arm_m", value);
    }

    @Option(
            names = "--lever-arm-u-m",
            paramLabel = "X",
            description = "Standard uncertainty of the lever arm. Default: 0.005 (a tape on skin; common practice).")
    void leverArmUM(@Nullable Double value) {
        say("lever_arm_u_m", value);
    }

    @Option(
            names = "--body-mass-kg",
            paramLabel = "X",
            description = "The person's mass, in kilograms; gives forces and torques per kilogram.")
    void bodyMassKg(@Nullable Double value) {
        say("body_mass_kg", value);
    }

    @Option(
            names = "--body-mass-u-kg",
            paramLabel = "X",
            description = "Standard uncertainty of the mass. Default: 0.5 (a bathroom scale; common practice).")
    void bodyMassUKg(@Nullable Double value) {
        say("body_mass_u_kg", value);
    }

    @Option(names = "--cue", paramLabel = "CUE", description = "How the person was told to push: explosive or ramped.")
    void cue(@Nullable String value) {
        say("cue", value);
    }

    @Option(
            names = "--fixation",
            paramLabel = "FIXATION",
            description = "What held the limb: hand, belt or rigid (also a belt whose stiffness was checked).")
    void fixation(@Nullable String value) {
        say("fixation", value);
    }

    @Option(names = "--contact", paramLabel = "CONTACT", description = "What the limb acts on: cuff or heelPlate.")
    void contact(@Nullable String value) {
        say("contact", value);
    }

    @Option(
            names = "--effort-type",
            paramLabel = "TYPE",
            description = "How the muscle worked: isometric or eccentric (as in a kneeling lower).")
    void effortType(@Nullable String value) {
        say("effort_type", value);
    }

    @Option(
            names = "--own-maximum-n",
            paramLabel = "X",
            description = "The person's own maximum on this test, in newtons; rates need 80 %% of it.")
    void ownMaximumN(@Nullable Double value) {
        say("own_maximum_n", value);
    }

    @Option(names = "--target-n", paramLabel = "X", description = "Force that was to be held, in newtons.")
    void targetN(@Nullable Double value) {
        say("target_n", value);
    }

    @Option(names = "--hold-s", paramLabel = "X", description = "How long it was to be held, in seconds.")
    void holdS(@Nullable Double value) {
        say("hold_s", value);
    }

    @Option(
            names = "--pull-angle-limit-deg",
            paramLabel = "X",
            description = "The pull may have been up to this far off its line; goes into the uncertainty.")
    void pullAngleLimitDeg(@Nullable Double value) {
        say("pull_angle_limit_deg", value);
    }

    @Option(
            names = "--gravity",
            paramLabel = "RULE",
            description = "What is done about the limb's weight: removedByZero, add, subtract or none.")
    void gravity(@Nullable String value) {
        say("gravity", value);
    }

    @Option(
            names = "--gravity-torque-nm",
            paramLabel = "X",
            description = "Torque of the limb's weight about the joint, to add or subtract.")
    void gravityTorqueNm(@Nullable Double value) {
        say("gravity_torque_nm", value);
    }

    @Option(
            names = "--gravity-torque-u-nm",
            paramLabel = "X",
            description = "Its standard uncertainty. Default: a tenth of it (common practice).")
    void gravityTorqueUNm(@Nullable Double value) {
        say("gravity_torque_u_nm", value);
    }

    private void say(String name, @Nullable Object value) {
        if (value != null) {
            said.put(name, value.toString());
        }
    }

    /** Returns the conditions; throws BadInputException naming the option that is out of range. */
    TestConditions conditions() {
        return new ConditionFields(said, name -> "--" + name.replace('_', '-')).of(TestConditions.UNKNOWN);
    }
}
