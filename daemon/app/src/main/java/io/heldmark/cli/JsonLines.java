package io.heldmark.cli;

import com.fasterxml.jackson.core.StreamWriteFeature;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;

/** Makes the JSON objects that commands print, one a line. */
final class JsonLines {
    /** Prints numbers alike on every Java version. */
    static final JsonMapper MAPPER = JsonMapper.builder()
            .enable(StreamWriteFeature.USE_FAST_DOUBLE_WRITER)
            .build();

    private JsonLines() {}

    /** Returns an empty object to fill. */
    static ObjectNode object() {
        return MAPPER.createObjectNode();
    }
}
