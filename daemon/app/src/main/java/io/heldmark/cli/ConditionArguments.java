package io.heldmark.cli;

import io.heldmark.model.TestConditions;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Option;

/** What the user says of the trials in a file. */
final class ConditionArguments {
    private static final double LEVER_ARM_U_M = 0.005;
    private static final double BODY_MASS_U_KG = 0.5;

    @Option(
            names = "--lever-arm-m",
            paramLabel = "X",
            description = "Distance from the joint's axis to the line of pull, in metres; gives torques.")
    private @Nullable Double leverArmM;

    @Option(
            names = "--lever-arm-u-m",
            paramLabel = "X",
            description = "Standard uncertainty of the lever arm. Default: 0.005 (a tape on skin; common practice).")
    private double leverArmUM = LEVER_ARM_U_M;

    @Option(
            names = "--body-mass-kg",
            paramLabel = "X",
            description = "The person's mass, in kilograms; gives forces and torques per kilogram.")
    private @Nullable Double bodyMassKg;

    @Option(
            names = "--body-mass-u-kg",
            paramLabel = "X",
            description = "Standard uncertainty of the mass. Default: 0.5 (a bathroom scale; common practice).")
    private double bodyMassUKg = BODY_MASS_U_KG;

    /** Returns the conditions; throws BadInputException naming the option that is out of range. */
    TestConditions conditions() {
        TestConditions.Builder builder = TestConditions.UNKNOWN.toBuilder();
        if (leverArmM != null) {
            check("--lever-arm-m", leverArmM, 0.01, 3);
            check("--lever-arm-u-m", leverArmUM, 0, 1);
            builder.leverArmM(leverArmM, leverArmUM);
        }
        if (bodyMassKg != null) {
            check("--body-mass-kg", bodyMassKg, 5, 500);
            check("--body-mass-u-kg", bodyMassUKg, 0, 50);
            builder.bodyMassKg(bodyMassKg, bodyMassUKg);
        }
        return builder.build();
    }

    private static void check(String option, double value, double least, double most) {
        if (!(value >= least && value <= most)) {
            throw new BadInputException(option + " " + value + " is not allowed: " + least + " to " + most);
        }
    }
}
