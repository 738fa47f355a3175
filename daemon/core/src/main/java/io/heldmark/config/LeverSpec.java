package io.heldmark.config;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;

/**
 * The lever arm at which a channel's force turns a joint, and the weight of the limb: {@code left = 0.320(0.005)},
 * {@code both = 0.32(0.005) + 11.8(0.6)}. Standard uncertainties stand in brackets, in the unit before them.
 *
 * @param name {@code left} or {@code right} for every channel of that limb, else the name of a channel.
 * @param armM distance from the joint's axis to the line of pull, in metres.
 * @param armStandardUncertaintyM its standard uncertainty; NaN where it is not said.
 * @param gravitySign 1: the limb's weight pulls against the muscle and its torque is added; -1: it helps and is subtracted; 0:
 *     nothing is said of it.
 * @param gravityTorqueNm torque of the limb's weight, in newton metres; NaN without.
 * @param gravityTorqueStandardUncertaintyNm its standard uncertainty; NaN where it is not said.
 */
public record LeverSpec(
        String name,
        double armM,
        double armStandardUncertaintyM,
        int gravitySign,
        double gravityTorqueNm,
        double gravityTorqueStandardUncertaintyNm) {
    private static final int MOST = 16;
    private static final double LONGEST_M = 3;
    private static final String NUMBER =
            "([0-9]{1,4}(?:\\.[0-9]{1,6})?)\\s*(?:\\(\\s*([0-9]{1,4}(?:\\.[0-9]{1,6})?)\\s*\\))?";
    private static final Pattern LEVER = Pattern.compile(
            "\\s*([A-Za-z][A-Za-z0-9_-]{0,23})\\s*=\\s*" + NUMBER + "\\s*(?:([+-])\\s*" + NUMBER + ")?\\s*");

    /**
     * Reads the levers of a setting, parted by semicolons.
     *
     * @param key the setting, for the refusal.
     * @param text its value; empty for none.
     * @throws ConfigException naming key, value and what is allowed.
     */
    public static List<LeverSpec> parse(String key, String text) {
        List<LeverSpec> levers = new ArrayList<>();
        if (text.isBlank()) {
            return levers;
        }
        Set<String> names = new HashSet<>();
        for (String definition : text.split(";", -1)) {
            LeverSpec lever = one(key, definition);
            if (!names.add(lever.name())) {
                throw new ConfigException(key, text, "each name once; " + lever.name() + " stands twice");
            }
            levers.add(lever);
        }
        if (levers.size() > MOST) {
            throw new ConfigException(key, text, "at most " + MOST + " levers");
        }
        return levers;
    }

    private static LeverSpec one(String key, String definition) {
        Matcher m = LEVER.matcher(definition);
        double armM = m.matches() ? Double.parseDouble(m.group(2)) : 0;
        if (!(armM > 0 && armM <= LONGEST_M)) {
            throw new ConfigException(
                    key,
                    definition.strip(),
                    "NAME = ARM(U), above 0 to 3 m, and + TORQUE(U) or - TORQUE(U) of the limb's weight in N m behind it;"
                            + " for example left = 0.320(0.005) + 11.8(0.6)");
        }
        String sign = m.group(4);
        return new LeverSpec(
                m.group(1),
                armM,
                number(m.group(3)),
                sign == null ? 0 : sign.equals("+") ? 1 : -1,
                number(m.group(5)),
                number(m.group(6)));
    }

    private static double number(@Nullable String text) {
        return text == null ? Double.NaN : Double.parseDouble(text);
    }
}
