package io.heldmark.live;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonFactoryBuilder;
import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.StreamWriteFeature;
import io.heldmark.model.MetricValue;
import io.heldmark.model.Quantity;
import io.heldmark.model.UncertaintyBudget;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.util.function.BiConsumer;
import java.util.function.Consumer;
import org.jspecify.annotations.Nullable;

/**
 * Writes one JSON object by the rules of the live protocol: what is not known is absent, {@code null} is never written.
 *
 * <p>Numbers come out the same on every Java version (Jackson's own writer of doubles).
 */
final class JsonOut {
    private static final JsonFactory FACTORY = new JsonFactoryBuilder()
            .enable(StreamWriteFeature.USE_FAST_DOUBLE_WRITER)
            .build();

    private final StringWriter text = new StringWriter(256);
    private final JsonGenerator json;

    /** Begins an object. */
    JsonOut() {
        try {
            json = FACTORY.createGenerator(text);
            json.writeStartObject();
        } catch (IOException e) {
            throw impossible(e);
        }
    }

    /** Begins an event. */
    static JsonOut event(String type) {
        return new JsonOut().text("type", type);
    }

    JsonOut text(String name, @Nullable String value) {
        if (value != null && !value.isEmpty()) {
            write(g -> g.writeStringField(name, value));
        }
        return this;
    }

    JsonOut flag(String name, boolean value) {
        return write(g -> g.writeBooleanField(name, value));
    }

    JsonOut whole(String name, long value) {
        return write(g -> g.writeNumberField(name, value));
    }

    /** Writes a number; not finite means not known. */
    JsonOut number(String name, double value) {
        return Double.isFinite(value) ? write(g -> g.writeNumberField(name, value)) : this;
    }

    /** Writes a number that is known when it is greater than 0. */
    JsonOut positive(String name, double value) {
        return value > 0 ? number(name, value) : this;
    }

    /** Writes a station time as seconds. */
    JsonOut seconds(String name, long nanoseconds) {
        return number(name, nanoseconds / 1e9);
    }

    /** Writes a length of time in nanoseconds as seconds; not finite means not known. */
    JsonOut seconds(String name, double nanoseconds) {
        return number(name, nanoseconds / 1e9);
    }

    JsonOut quantity(String name, @Nullable Quantity q) {
        if (q == null) {
            return this;
        }
        return object(name, o -> o.quantityFields(q));
    }

    JsonOut quantityFields(Quantity q) {
        return number("value", q.value())
                .number("standardUncertainty", q.standardUncertainty())
                .text("unit", q.unit());
    }

    JsonOut metricFields(MetricValue metric) {
        text("id", metric.id());
        Quantity q = metric.quantity();
        if (q == null) {
            return text("notComputed", metric.notComputed());
        }
        quantityFields(q);
        UncertaintyBudget budget = metric.budget();
        return budget == null ? this : budgetField(budget);
    }

    private JsonOut budgetField(UncertaintyBudget budget) {
        return array(
                "budget",
                budget.terms(),
                (o, term) -> o.text("term", term.source().id())
                        .number("standardUncertainty", term.standardUncertainty())
                        .number("share", budget.share(term)));
    }

    /** Writes a member that is JSON already. */
    JsonOut raw(String name, String jsonText) {
        return write(g -> {
            g.writeFieldName(name);
            g.writeRawValue(jsonText);
        });
    }

    /** Writes an array of members that are JSON already. */
    JsonOut rawArray(String name, Iterable<String> items) {
        return write(g -> {
            g.writeArrayFieldStart(name);
            for (String item : items) {
                g.writeRawValue(item);
            }
            g.writeEndArray();
        });
    }

    JsonOut object(String name, Consumer<JsonOut> fields) {
        return write(g -> {
            g.writeObjectFieldStart(name);
            fields.accept(this);
            g.writeEndObject();
        });
    }

    <T> JsonOut array(String name, Iterable<T> items, BiConsumer<JsonOut, T> fields) {
        return write(g -> {
            g.writeArrayFieldStart(name);
            for (T item : items) {
                g.writeStartObject();
                fields.accept(this, item);
                g.writeEndObject();
            }
            g.writeEndArray();
        });
    }

    /** Ends the object and returns its text. */
    String end() {
        write(g -> {
            g.writeEndObject();
            g.close();
        });
        return text.toString();
    }

    private interface Step {
        void to(JsonGenerator g) throws IOException;
    }

    private JsonOut write(Step step) {
        try {
            step.to(json);
            return this;
        } catch (IOException e) {
            throw impossible(e);
        }
    }

    private static UncheckedIOException impossible(IOException e) {
        return new UncheckedIOException("a StringWriter does not fail", e);
    }
}
