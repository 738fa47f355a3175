package io.heldmark.pipeline;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.config.ConfigException;
import io.heldmark.model.SaidConditions;
import io.heldmark.model.TestConditions;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;

/** What is said of trials as JSON: one member for each thing that is said, and {@code left} and {@code right} for one limb. */
public final class ConditionsJson {
    private static final Map<String, String> FIELDS = Map.ofEntries(
            Map.entry("leverArmM", "lever_arm_m"),
            Map.entry("leverArmStandardUncertaintyM", "lever_arm_u_m"),
            Map.entry("bodyMassKg", "body_mass_kg"),
            Map.entry("bodyMassStandardUncertaintyKg", "body_mass_u_kg"),
            Map.entry("angleDeg", "angle_deg"),
            Map.entry("angleStandardUncertaintyDeg", "angle_u_deg"),
            Map.entry("gravityTorqueNm", "gravity_torque_nm"),
            Map.entry("gravityTorqueStandardUncertaintyNm", "gravity_torque_u_nm"),
            Map.entry("pullAngleLimitDeg", "pull_angle_limit_deg"),
            Map.entry("ownMaximumN", "own_maximum_n"),
            Map.entry("targetForceN", "target_n"),
            Map.entry("holdS", "hold_s"),
            Map.entry("cue", "cue"),
            Map.entry("fixation", "fixation"),
            Map.entry("contact", "contact"),
            Map.entry("effortType", "effort_type"),
            Map.entry("zeroing", "zeroing"),
            Map.entry("gravity", "gravity"));
    private static final List<String> LIMBS = List.of("left", "right");

    private ConditionsJson() {}

    /** Returns the event that tells viewers what is said. */
    public static String event(SaidConditions said) {
        ObjectNode o = JsonNodeFactory.instance.objectNode().put("type", "trials");
        put(o, said);
        return o.toString();
    }

    /** Writes what is said; what is not said is absent. */
    public static void put(ObjectNode o, SaidConditions said) {
        put(o, said.both());
        putLimb(o, "left", said.left());
        putLimb(o, "right", said.right());
    }

    private static void putLimb(ObjectNode o, String limb, TestConditions conditions) {
        if (!conditions.equals(TestConditions.UNKNOWN)) {
            put(o.putObject(limb), conditions);
        }
    }

    /** Writes what is said; what is not said is absent. */
    public static void put(ObjectNode o, TestConditions c) {
        number(o, "leverArmM", c.leverArmM());
        number(o, "leverArmStandardUncertaintyM", c.leverArmStandardUncertaintyM());
        number(o, "bodyMassKg", c.bodyMassKg());
        number(o, "bodyMassStandardUncertaintyKg", c.bodyMassStandardUncertaintyKg());
        number(o, "angleDeg", c.angleDeg());
        number(o, "angleStandardUncertaintyDeg", c.angleStandardUncertaintyDeg());
        number(o, "gravityTorqueNm", c.gravityTorqueNm());
        number(o, "gravityTorqueStandardUncertaintyNm", c.gravityTorqueStandardUncertaintyNm());
        number(o, "pullAngleLimitDeg", c.pullAngleLimitDeg());
        number(o, "ownMaximumN", c.ownMaximumN());
        number(o, "targetForceN", c.targetForceN());
        number(o, "holdS", c.holdS());
        word(o, "cue", c.cue());
        word(o, "fixation", c.fixation());
        word(o, "contact", c.contact());
        word(o, "effortType", c.effortType());
        word(o, "zeroing", c.zeroing());
        word(o, "gravity", c.gravity());
    }

    private static void number(ObjectNode o, String name, double value) {
        if (!Double.isNaN(value)) {
            o.put(name, value);
        }
    }

    private static void word(ObjectNode o, String name, Enum<?> value) {
        if (!value.name().equals("UNKNOWN")) {
            o.put(name, ConditionFields.word(value));
        }
    }

    /**
     * Reads what is said.
     *
     * @param ignored members that are not about trials.
     * @throws ConfigException with one line naming the member, its value and what is allowed.
     */
    public static SaidConditions read(JsonNode o, List<String> ignored) {
        return new SaidConditions(conditions(o, "", ignored), limb(o, "left"), limb(o, "right"));
    }

    private static TestConditions limb(JsonNode o, String limb) {
        JsonNode of = o.path(limb);
        if (of.isMissingNode()) {
            return TestConditions.UNKNOWN;
        }
        if (!of.isObject()) {
            throw new ConfigException(limb + " is an object of what is said of that limb");
        }
        return conditions(of, limb + ".", LIMBS);
    }

    private static TestConditions conditions(JsonNode o, String before, List<String> ignored) {
        Map<String, String> said = new HashMap<>();
        Map<String, String> names = new HashMap<>();
        for (Map.Entry<String, JsonNode> member : o.properties()) {
            String name = member.getKey();
            if (before.isEmpty() && (LIMBS.contains(name) || ignored.contains(name))) {
                continue;
            }
            String field = FIELDS.get(name);
            if (field == null) {
                throw new ConfigException("there is no member " + before + name + " here; there are: "
                        + String.join(", ", new TreeMap<>(FIELDS).keySet()) + ", left, right");
            }
            names.put(field, before + name);
            said.put(field, text(before + name, member.getValue(), ConditionFields.WORDS.contains(field)));
        }
        return new ConditionFields(said, field -> names.getOrDefault(field, field)).of(TestConditions.UNKNOWN);
    }

    private static String text(String name, JsonNode value, boolean word) {
        if (word ? !value.isTextual() : !value.isNumber()) {
            throw new ConfigException(name + " is a " + (word ? "word" : "number"));
        }
        return value.asText();
    }
}
