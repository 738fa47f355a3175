package io.heldmark.record;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.cfg.JsonNodeFeature;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.charset.StandardCharsets;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * The JSON in a recording: what its comment options hold and how its text is read.
 *
 * <p>Numbers keep all their written digits, so that settings come back as they were. Members that this version does not
 * know are passed over: they are how the format grows.
 */
final class RecordingFacts {
    /** Name and version of the format. */
    static final String SCHEMA = "heldmark.recording/1";

    /** Name of the format without its version. */
    static final String SCHEMA_FAMILY = "heldmark.recording/";

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
        } catch (JsonProcessingException | NumberFormatException e) { // The latter: an exponent beyond all bounds.
            return null;
        }
    }

    /** Makes an empty object to fill. */
    static ObjectNode newObject() {
        return MAPPER.createObjectNode();
    }

    /** Makes the comment of the section header. */
    static String sectionComment(RecordingHeader header) {
        ObjectNode facts = newObject();
        facts.put("schema", SCHEMA);
        facts.put("wallAnchorNs", header.wallAnchorNs());
        facts.put("stationVersion", header.stationVersion());
        facts.set("settings", object(header.settingsJson()));
        return facts.toString();
    }

    /** Makes the comment of the station's interface. */
    static String stationComment() {
        return newObject().put("interface", "station").toString();
    }

    /** Makes the comment of a link's interface. */
    static String linkComment(int number, LinkHeader link) {
        ObjectNode facts = newObject();
        facts.put("interface", "link");
        facts.put("link", number);
        facts.put("name", link.name());
        facts.put("binding", link.binding());
        facts.set("facts", object(link.factsJson()));
        return facts.toString();
    }

    /**
     * Reads the comment of the section header.
     *
     * @return the header, still without links; null where a member is missing or of the wrong type.
     */
    static @Nullable RecordingHeader header(ObjectNode facts) {
        JsonNode anchor = facts.path("wallAnchorNs");
        if (!anchor.isIntegralNumber() || !anchor.canConvertToLong()) {
            return null;
        }
        try {
            return new RecordingHeader(
                    anchor.longValue(),
                    facts.path("stationVersion").asText(""),
                    List.of(),
                    facts.path("settings").toString());
        } catch (IllegalArgumentException e) {
            return null;
        }
    }

    /** Reads the comment of a link's interface; null where a member is missing or of the wrong type. */
    static @Nullable LinkHeader link(ObjectNode facts) {
        try {
            return new LinkHeader(
                    facts.path("name").asText(""),
                    facts.path("binding").asText(""),
                    facts.path("facts").toString());
        } catch (IllegalArgumentException e) {
            return null;
        }
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
