package io.heldmark.pipeline;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.cfg.JsonNodeFeature;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.config.StationSettings;
import java.util.LinkedHashMap;
import java.util.Map;

/**
 * The settings in the header of a recording.
 *
 * @param values values by key, as text.
 * @param invented whether the session's data were invented (simulated).
 */
record RecordedSettings(Map<String, String> values, boolean invented) {
    private static final String INVENTED = "session.invented";
    private static final String HASH = "settings.sha256";
    private static final JsonMapper MAPPER = JsonMapper.builder()
            .enable(DeserializationFeature.USE_BIG_DECIMAL_FOR_FLOATS)
            .disable(JsonNodeFeature.STRIP_TRAILING_BIGDECIMAL_ZEROES) // Numbers keep their written digits.
            .build();

    /** Returns what the header holds: every setting, the hash of those that change results, and the mark of invention. */
    static String write(StationSettings settings, boolean invented) {
        try {
            ObjectNode all = (ObjectNode) MAPPER.readTree(settings.effectiveJson());
            return all.put(INVENTED, invented).put(HASH, settings.resultHash()).toString();
        } catch (JsonProcessingException e) {
            throw new IllegalStateException("settings write JSON", e);
        }
    }

    static RecordedSettings of(String settingsJson) {
        Map<String, String> values = new LinkedHashMap<>();
        try {
            for (Map.Entry<String, JsonNode> e : MAPPER.readTree(settingsJson).properties()) {
                values.put(e.getKey(), e.getValue().asText());
            }
        } catch (JsonProcessingException e) {
            throw new IllegalStateException("the header has been checked", e);
        }
        return new RecordedSettings(values, "true".equals(values.get(INVENTED)));
    }
}
