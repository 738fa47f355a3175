package io.heldmark.web;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.StreamReadFeature;
import com.fasterxml.jackson.core.StreamWriteFeature;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import com.fasterxml.jackson.databind.node.POJONode;
import com.fasterxml.jackson.databind.util.RawValue;
import io.javalin.http.Context;
import java.util.Iterator;
import java.util.List;

/** Reads request bodies strictly and writes answers. */
final class Json {
    /** Longest request body, in bytes; a mark of 500 characters is the longest thing there is to say. */
    static final int MAX_BODY_BYTES = 16 * 1024;

    private static final int MAX_PRINTED = 500;

    private static final JsonMapper MAPPER = JsonMapper.builder()
            .enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION)
            .enable(StreamWriteFeature.USE_FAST_DOUBLE_WRITER)
            .enable(DeserializationFeature.FAIL_ON_TRAILING_TOKENS)
            .build();

    private Json() {}

    /** Returns an empty object to fill. */
    static ObjectNode object() {
        return MAPPER.createObjectNode();
    }

    /** Returns a part that is JSON text already, of our own making. */
    static JsonNode raw(String json) {
        return new POJONode(new RawValue(json));
    }

    /**
     * Reads a request's body.
     *
     * @param allowed the members that this request may have.
     * @throws ApiException (400) if it is not sent as JSON, is longer than {@link #MAX_BODY_BYTES}, is no JSON object or has
     *     another member.
     */
    static ObjectNode body(Context ctx, List<String> allowed) {
        ObjectNode body = body(ctx);
        for (Iterator<String> names = body.fieldNames(); names.hasNext(); ) {
            String name = names.next();
            if (!allowed.contains(name)) {
                throw new ApiException(
                        400,
                        "There is no member " + printable(name) + " here; there are: " + String.join(", ", allowed)
                                + ".");
            }
        }
        return body;
    }

    /**
     * Reads a request's body, whose members the caller checks.
     *
     * @throws ApiException (400) if it is not sent as JSON, is longer than {@link #MAX_BODY_BYTES} or is no JSON object.
     */
    static ObjectNode body(Context ctx) {
        String type = ctx.contentType();
        if (type == null || !type.split(";", 2)[0].trim().equalsIgnoreCase("application/json")) {
            throw new ApiException(400, "Send the request with Content-Type: application/json.");
        }
        byte[] bytes = ctx.bodyAsBytes();
        if (bytes.length > MAX_BODY_BYTES) {
            throw new ApiException(400, "The body is longer than " + MAX_BODY_BYTES + " bytes.");
        }
        return parse(bytes);
    }

    /** Answers with a JSON text. */
    static void answer(Context ctx, int status, String json) {
        ctx.status(status).contentType("application/json; charset=utf-8").result(json);
    }

    /** Answers with a JSON object. */
    static void answer(Context ctx, int status, ObjectNode json) {
        answer(ctx, status, json.toString());
    }

    /** Answers with an error. */
    static void error(Context ctx, int status, String sentence) {
        answer(ctx, status, object().put("error", sentence));
    }

    private static ObjectNode parse(byte[] bytes) {
        try {
            JsonNode node = MAPPER.readTree(bytes);
            if (node instanceof ObjectNode object) {
                return object;
            }
        } catch (JsonProcessingException e) {
            throw new ApiException(400, "The body is not valid JSON: " + printable(e.getOriginalMessage()));
        } catch (java.io.IOException e) {
            throw new ApiException(400, "The body cannot be read.");
        }
        throw new ApiException(400, "The body must be one JSON object.");
    }

    /** Returns a text without anything that does not print, and not too long. */
    static String printable(String text) {
        String plain = text.replaceAll("[^ -~]", "?");
        return plain.length() <= MAX_PRINTED ? plain : plain.substring(0, MAX_PRINTED) + "...";
    }
}
