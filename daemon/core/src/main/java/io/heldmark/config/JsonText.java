package io.heldmark.config;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonFactoryBuilder;
import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.StreamWriteFeature;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;

/** One scalar as JSON, the same text on every Java version. */
final class JsonText {
    // Double.toString differs between Java 17 and 25; Jackson's own writer does not.
    private static final JsonFactory FACTORY = new JsonFactoryBuilder()
            .enable(StreamWriteFeature.USE_FAST_DOUBLE_WRITER)
            .build();

    private JsonText() {}

    static void append(StringBuilder out, Object value) {
        StringWriter text = new StringWriter();
        try (JsonGenerator json = FACTORY.createGenerator(text)) {
            if (value instanceof Double number) {
                json.writeNumber(number);
            } else if (value instanceof Long whole) {
                json.writeNumber(whole);
            } else if (value instanceof Boolean flag) {
                json.writeBoolean(flag);
            } else {
                json.writeString(value.toString());
            }
        } catch (IOException e) {
            throw new UncheckedIOException("a StringWriter does not fail", e);
        }
        out.append(text);
    }
}
