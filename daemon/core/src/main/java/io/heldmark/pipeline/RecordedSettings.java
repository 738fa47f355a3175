package io.heldmark.pipeline;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.util.LinkedHashMap;
import java.util.Map;

/**
 * The settings in the header of a recording.
 *
 * @param values values by key, as text.
 * @param invented whether the session's data were invented (simulated).
 */
record RecordedSettings(Map<String, String> values, boolean invented) {
    private static final JsonMapper MAPPER = JsonMapper.builder()
            .enable(DeserializationFeature.USE_BIG_DECIMAL_FOR_FLOATS)
            .build();

    static RecordedSettings of(String settingsJson) {
        Map<String, String> values = new LinkedHashMap<>();
        try {
            for (Map.Entry<String, JsonNode> e : MAPPER.readTree(settingsJson).properties()) {
                values.put(e.getKey(), e.getValue().asText());
            }
        } catch (JsonProcessingException e) {
            throw new IllegalStateException("the header has been checked", e);
        }
        return new RecordedSettings(values, "true".equals(values.get("session.invented")));
    }
}
