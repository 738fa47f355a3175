package io.heldmark.config;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.Collections;
import java.util.HexFormat;
import java.util.LinkedHashMap;
import java.util.Map;

/**
 * The effective settings: one checked value for every setting of {@link Config}, and where it came from. Immutable.
 */
public final class StationSettings {
    /** A value and the layer that gave it. */
    record Value(Object value, String source) {}

    private final Map<Setting, Value> values;

    StationSettings(Map<Setting, Value> values) {
        this.values = Collections.unmodifiableMap(new LinkedHashMap<>(values));
    }

    /** Returns a {@link Setting.Kind#NUMBER}. */
    public double number(Setting setting) {
        return (Double) value(setting);
    }

    /** Returns a {@link Setting.Kind#WHOLE}. */
    public long whole(Setting setting) {
        return (Long) value(setting);
    }

    /** Returns a {@link Setting.Kind#WHOLE} that the setting's range keeps within an int. */
    public int wholeInt(Setting setting) {
        return Math.toIntExact(whole(setting));
    }

    /** Returns a {@link Setting.Kind#SWITCH}. */
    public boolean isOn(Setting setting) {
        return (Boolean) value(setting);
    }

    /** Returns a {@link Setting.Kind#CHOICE} or {@link Setting.Kind#TEXT}. */
    public String text(Setting setting) {
        return value(setting).toString();
    }

    /** Returns where a value came from: {@code default}, or the name of the layer. */
    public String source(Setting setting) {
        return entry(setting).source();
    }

    /** Returns every setting and its value as one JSON object, in the order of {@link Config}; equal settings, equal text. */
    public String effectiveJson() {
        return json(false);
    }

    /** Returns the SHA-256, in lower-case hex, of the settings that can change a result, as JSON. */
    public String resultHash() {
        try {
            byte[] digest =
                    MessageDigest.getInstance("SHA-256").digest(json(true).getBytes(StandardCharsets.UTF_8));
            return HexFormat.of().formatHex(digest);
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java platform has SHA-256", e);
        }
    }

    /**
     * Returns these settings with the result settings of a recording in their place, so that a replay computes what the
     * recorded session computed while the station runs by its own.
     *
     * @param recorded values by key as the recording holds them; operation settings and keys of other versions are left
     *     out.
     * @param source name of the layer.
     */
    public StationSettings withResultSettingsOf(Map<String, String> recorded, String source) {
        Map<Setting, Value> next = new LinkedHashMap<>(values);
        for (Setting setting : values.keySet()) {
            String text = recorded.get(setting.key());
            if (setting.scope() == Setting.Scope.RESULT) {
                // What an older recording does not know had the default of its time, which is today's.
                next.put(setting, new Value(setting.parse(text == null ? setting.defaultText() : text), source));
            }
        }
        return new StationSettings(next);
    }

    Map<Setting, Value> values() {
        return values;
    }

    private String json(boolean resultsOnly) {
        StringBuilder out = new StringBuilder("{");
        for (Map.Entry<Setting, Value> e : values.entrySet()) {
            if (resultsOnly && e.getKey().scope() != Setting.Scope.RESULT) {
                continue;
            }
            if (out.length() > 1) {
                out.append(',');
            }
            out.append('"').append(e.getKey().key()).append("\":");
            JsonText.append(out, e.getValue().value());
        }
        return out.append('}').toString();
    }

    private Object value(Setting setting) {
        return entry(setting).value();
    }

    private Value entry(Setting setting) {
        Value value = values.get(setting);
        if (value == null) {
            throw new IllegalArgumentException("no such setting: key=" + setting.key());
        }
        return value;
    }
}
