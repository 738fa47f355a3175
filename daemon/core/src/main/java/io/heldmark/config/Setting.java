package io.heldmark.config;

import java.util.List;

/**
 * One setting: its key, what values it takes, its default and what it is for.
 *
 * @param key dotted name whose last part carries the unit, for example {@code trace.lowPassHz}.
 * @param kind what the text stands for.
 * @param minimum least number allowed; 0 where the kind is not a number.
 * @param maximum greatest number allowed; 0 where the kind is not a number.
 * @param choices the texts allowed of a {@link Kind#CHOICE}; empty otherwise.
 * @param defaultText the default, as a user would write it.
 * @param scope whether results depend on it.
 * @param doc what it is for, in whole sentences.
 */
public record Setting(
        String key,
        Kind kind,
        double minimum,
        double maximum,
        List<String> choices,
        String defaultText,
        Scope scope,
        String doc) {
    /** What the text of a setting stands for. */
    public enum Kind {
        /** A number with a fraction. */
        NUMBER,
        /** A whole number. */
        WHOLE,
        /** {@code true} or {@code false}. */
        SWITCH,
        /** One of a few words. */
        CHOICE,
        /** Any text. */
        TEXT
    }

    /** Whether a setting can change a result. */
    public enum Scope {
        /** Results depend on it: it is part of the hash, and a replay takes it from the recording. */
        RESULT,
        /** It belongs to the running of the station; a replay takes the station's own. */
        OPERATION
    }

    /** Copies the choices. */
    public Setting {
        choices = List.copyOf(choices);
    }

    static Setting number(String key, double def, double minimum, double maximum, Scope scope, String doc) {
        return new Setting(key, Kind.NUMBER, minimum, maximum, List.of(), plain(def), scope, doc);
    }

    static Setting whole(String key, long def, long minimum, long maximum, Scope scope, String doc) {
        return new Setting(key, Kind.WHOLE, minimum, maximum, List.of(), Long.toString(def), scope, doc);
    }

    static Setting onOff(String key, boolean def, Scope scope, String doc) {
        return new Setting(key, Kind.SWITCH, 0, 0, List.of(), Boolean.toString(def), scope, doc);
    }

    static Setting choice(String key, String def, List<String> choices, Scope scope, String doc) {
        return new Setting(key, Kind.CHOICE, 0, 0, choices, def, scope, doc);
    }

    static Setting text(String key, String def, Scope scope, String doc) {
        return new Setting(key, Kind.TEXT, 0, 0, List.of(), def, scope, doc);
    }

    /** Returns what is allowed, in words for people. */
    public String allowed() {
        return switch (kind) {
            case NUMBER -> "a number from " + plain(minimum) + " to " + plain(maximum);
            case WHOLE -> "a whole number from " + plain(minimum) + " to " + plain(maximum);
            case SWITCH -> "true or false";
            case CHOICE -> "one of " + String.join(", ", choices);
            case TEXT -> "a text";
        };
    }

    /**
     * Reads a value.
     *
     * @return Double, Long, Boolean or String by the kind.
     * @throws ConfigException if the text is not one of the values allowed; names key, value and range.
     */
    Object parse(String text) {
        String trimmed = text.trim();
        switch (kind) {
            case NUMBER -> {
                double value = numberOf(trimmed);
                if (value >= minimum && value <= maximum) {
                    return value == 0 ? (Double) 0.0 : (Double) value; // -0.0 would print and hash differently
                }
            }
            case WHOLE -> {
                if (trimmed.matches("-?[0-9]{1,15}")) {
                    long value = Long.parseLong(trimmed);
                    if (value >= minimum && value <= maximum) {
                        return value;
                    }
                }
            }
            case SWITCH -> {
                if (trimmed.equals("true") || trimmed.equals("false")) {
                    return Boolean.valueOf(trimmed);
                }
            }
            case CHOICE -> {
                if (choices.contains(trimmed)) {
                    return trimmed;
                }
            }
            case TEXT -> {
                return trimmed;
            }
        }
        throw new ConfigException(key, text, allowed());
    }

    private static double numberOf(String text) {
        if (!text.matches("[-+]?[0-9]+(\\.[0-9]+)?([eE][-+]?[0-9]{1,3})?")) {
            return Double.NaN;
        }
        return Double.parseDouble(text);
    }

    private static String plain(double value) {
        return value == StrictMath.rint(value) && Math.abs(value) < 1e15
                ? Long.toString((long) value)
                : Double.toString(value);
    }
}
