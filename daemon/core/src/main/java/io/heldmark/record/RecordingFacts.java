package io.heldmark.record;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.cfg.JsonNodeFeature;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.charset.StandardCharsets;
import org.jspecify.annotations.Nullable;

/**
 * The JSON in a recording's comment options: what is allowed and how it is read.
 *
 * <p>Numbers keep all their written digits, so that settings come back as they were.
 */
final class RecordingFacts {
    /** Longest JSON of settings or facts, in bytes of UTF-8; an option holds 65,535 and some are ours. */
    static final int MAX_JSON_BYTES = 60_000;

    /** Longest name, in bytes of UTF-8. */
    static final int MAX_NAME_BYTES = 1_000;

    private static final JsonMapper MAPPER = JsonMapper.builder()
            .enable(DeserializationFeature.USE_BIG_DECIMAL_FOR_FLOATS)
            .enable(DeserializationFeature.FAIL_ON_TRAILING_TOKENS)
            .disable(JsonNodeFeature.STRIP_TRAILING_BIGDECIMAL_ZEROES)
            .build();

    private RecordingFacts() {}

    /** Reads a JSON object; null where the text is anything else. */
    static @Nullable ObjectNode object(String json) {
        try {
            JsonNode node = MAPPER.readTree(json);
            return node instanceof ObjectNode object ? object : null;
        } catch (JsonProcessingException e) {
            return null;
        }
    }

    /** Makes an empty object to fill. */
    static ObjectNode newObject() {
        return MAPPER.createObjectNode();
    }

    static void requireObject(String name, String json) {
        if (json.getBytes(StandardCharsets.UTF_8).length > MAX_JSON_BYTES) {
            throw new IllegalArgumentException(name + " is longer than " + MAX_JSON_BYTES + " bytes");
        }
        if (object(json) == null) {
            throw new IllegalArgumentException(name + " is not a JSON object: " + name + "=" + json);
        }
    }

    static void requireShort(String name, String text) {
        if (text.isEmpty() || text.getBytes(StandardCharsets.UTF_8).length > MAX_NAME_BYTES) {
            throw new IllegalArgumentException(
                    name + " must have 1 to " + MAX_NAME_BYTES + " bytes: " + name + "=" + text);
        }
    }
}
