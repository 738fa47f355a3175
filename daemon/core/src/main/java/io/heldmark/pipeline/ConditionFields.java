package io.heldmark.pipeline;

import io.heldmark.config.ConfigException;
import io.heldmark.model.TestConditions;
import io.heldmark.model.TestConditions.Contact;
import io.heldmark.model.TestConditions.Cue;
import io.heldmark.model.TestConditions.EffortType;
import io.heldmark.model.TestConditions.Fixation;
import io.heldmark.model.TestConditions.Gravity;
import io.heldmark.model.TestConditions.Zeroing;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.function.UnaryOperator;

/**
 * What a user can say of a trial, by name and as text: options of a command, columns of a table of tests and members of a
 * request alike.
 *
 * <p>What is said is checked against its range; what is not said stays as it was.
 */
public final class ConditionFields {
    private record Range(double least, double most) {}

    private static final Map<String, Range> NUMBERS = Map.ofEntries(
            Map.entry("lever_arm_m", new Range(0.01, 3)),
            Map.entry("lever_arm_u_m", new Range(0, 1)),
            Map.entry("body_mass_kg", new Range(5, 500)),
            Map.entry("body_mass_u_kg", new Range(0, 50)),
            Map.entry("angle_deg", new Range(-360, 360)),
            Map.entry("angle_u_deg", new Range(0, 45)),
            Map.entry("gravity_torque_nm", new Range(0, 500)),
            Map.entry("gravity_torque_u_nm", new Range(0, 500)),
            Map.entry("pull_angle_limit_deg", new Range(0, 60)),
            Map.entry("own_maximum_n", new Range(1, 50_000)),
            Map.entry("target_n", new Range(1, 50_000)),
            Map.entry("hold_s", new Range(0.1, 3600)));

    private static final double LEVER_ARM_U_M = 0.005; // A tape on skin; common practice, no published source.
    private static final double BODY_MASS_U_KG = 0.5; // A bathroom scale; common practice, no published source.
    private static final double ANGLE_U_DEG = 2; // A goniometer; common practice, no published source.
    private static final double GRAVITY_U_SHARE = 0.1; // Of its torque; common practice, no published source.

    /** Names of the fields that take one of a few words. */
    public static final List<String> WORDS = List.of("cue", "fixation", "contact", "zeroing", "gravity", "effort_type");

    private final Map<String, String> said;
    private final UnaryOperator<String> where;
    private final Map<String, Double> numbers = new HashMap<>();

    /**
     * Takes what is said.
     *
     * @param said text by the field's name; other names are left alone.
     * @param where tells people where a field was said.
     */
    public ConditionFields(Map<String, String> said, UnaryOperator<String> where) {
        this.said = said;
        this.where = where;
        NUMBERS.forEach((name, range) -> {
            String text = said.get(name);
            if (text != null) {
                numbers.put(name, number(where.apply(name), text, range.least(), range.most()));
            }
        });
    }

    /** Returns the names of all fields. */
    public static List<String> names() {
        List<String> names = new ArrayList<>(NUMBERS.keySet());
        names.addAll(WORDS);
        return names.stream().sorted().toList();
    }

    /** Returns the conditions with what is said; throws ConfigException naming the field that cannot be. */
    public TestConditions of(TestConditions base) {
        TestConditions.Builder b = base.toBuilder();
        pairs(b, base);
        singles(b, base);
        b.cue(word(Cue.class, "cue", base.cue()));
        b.fixation(word(Fixation.class, "fixation", base.fixation()));
        b.contact(word(Contact.class, "contact", base.contact()));
        b.zeroing(word(Zeroing.class, "zeroing", base.zeroing()));
        b.effortType(word(EffortType.class, "effort_type", base.effortType()));
        return b.build();
    }

    private void pairs(TestConditions.Builder b, TestConditions base) {
        double lever = value("lever_arm_m", base.leverArmM());
        b.leverArmM(lever, u("lever_arm_u_m", lever, base.leverArmStandardUncertaintyM(), LEVER_ARM_U_M));
        double mass = value("body_mass_kg", base.bodyMassKg());
        b.bodyMassKg(mass, u("body_mass_u_kg", mass, base.bodyMassStandardUncertaintyKg(), BODY_MASS_U_KG));
        double angle = value("angle_deg", base.angleDeg());
        b.angleDeg(angle, u("angle_u_deg", angle, base.angleStandardUncertaintyDeg(), ANGLE_U_DEG));
        double gravity = value("gravity_torque_nm", base.gravityTorqueNm());
        b.gravity(
                word(Gravity.class, "gravity", base.gravity()),
                gravity,
                u(
                        "gravity_torque_u_nm",
                        gravity,
                        base.gravityTorqueStandardUncertaintyNm(),
                        GRAVITY_U_SHARE * gravity));
    }

    private void singles(TestConditions.Builder b, TestConditions base) {
        b.pullAngleLimitDeg(value("pull_angle_limit_deg", base.pullAngleLimitDeg()));
        b.ownMaximumN(value("own_maximum_n", base.ownMaximumN()));
        b.targetForceN(value("target_n", base.targetForceN()));
        b.holdS(value("hold_s", base.holdS()));
    }

    private double value(String name, double base) {
        return numbers.getOrDefault(name, base);
    }

    /** Uncertainty as said, else as before, else as is common; none of what is not known itself. */
    private double u(String name, double value, double base, double common) {
        if (Double.isNaN(value)) {
            return Double.NaN;
        }
        return value(name, Double.isNaN(base) ? common : base);
    }

    private <E extends Enum<E>> E word(Class<E> kind, String name, E base) {
        String text = said.get(name);
        return text == null ? base : word(kind, where.apply(name), text);
    }

    /** Reads one of the words of a kind, all but "unknown": {@code heelPlate} of {@code HEEL_PLATE}. */
    public static <E extends Enum<E>> E word(Class<E> kind, String where, String text) {
        List<String> words = new ArrayList<>();
        for (E value : kind.getEnumConstants()) {
            if (!value.name().equals("UNKNOWN")) {
                words.add(word(value));
                if (word(value).equals(text)) {
                    return value;
                }
            }
        }
        throw new ConfigException(where + " " + text + " is not allowed: " + String.join(", ", words));
    }

    /** Returns the word that stands for a value. */
    public static String word(Enum<?> value) {
        StringBuilder out = new StringBuilder();
        for (String part : value.name().toLowerCase(Locale.ROOT).split("_", -1)) {
            out.append(out.isEmpty() ? part : part.substring(0, 1).toUpperCase(Locale.ROOT) + part.substring(1));
        }
        return out.toString();
    }

    /** Reads a number in a range. */
    public static double number(String where, String text, double least, double most) {
        double value;
        try {
            value = Double.parseDouble(text);
        } catch (NumberFormatException noNumber) {
            throw new ConfigException(where + " " + text + " is no number");
        }
        if (!(value >= least && value <= most)) {
            throw new ConfigException(where + " " + text + " is not allowed: " + least + " to " + most);
        }
        return value;
    }
}
