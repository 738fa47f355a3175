package io.heldmark.simulator.scenario;

import com.fasterxml.jackson.core.JsonPointer;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import com.networknt.schema.Error;
import com.networknt.schema.Schema;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import java.io.IOException;
import java.io.InputStream;
import java.util.ArrayList;
import java.util.List;

/**
 * The schema of scenario files: what is allowed, and the defaults of what is absent.
 *
 * <p>The schema file is the only place of ranges and defaults. It is written in a narrow style that the walk here relies on:
 * every object lists its properties and allows no others, and nothing is a reference or a choice of schemas.
 */
public final class ScenarioSchema {
    private static final String RESOURCE = "scenario.schema.json";
    private static final JsonNode TREE = readTree();
    private static final Schema SCHEMA = SchemaRegistry.withDefaultDialect(SpecificationVersion.DRAFT_2020_12)
            .getSchema(TREE);

    private ScenarioSchema() {}

    /** Something in a file that the schema does not allow. */
    record Finding(JsonPointer place, String text) {
        private static final String UNKNOWN = "unknown key; allowed here: ";

        boolean unknownKey() {
            return text.startsWith(UNKNOWN);
        }
    }

    /** Returns the schema as JSON; for documentation. */
    public static JsonNode tree() {
        return TREE.deepCopy();
    }

    /** Returns all that the schema has against a document, in the validator's order. */
    static List<Finding> findings(JsonNode document) {
        List<Finding> findings = new ArrayList<>();
        for (Error error : SCHEMA.validate(document)) {
            findings.add(finding(error));
        }
        if (findings.isEmpty()) {
            findBackwardRanges(document, TREE, JsonPointer.empty(), findings);
        }
        return findings;
    }

    /** Adds the default of everything that is absent and has one. */
    static void fillDefaults(JsonNode node, JsonNode schema) {
        if (node.isArray()) {
            node.forEach(item -> fillDefaults(item, schema.path("items")));
        }
        if (!(node instanceof ObjectNode object)) {
            return;
        }
        schema.path("properties").properties().forEach(property -> {
            JsonNode standard = property.getValue().get("default");
            if (standard != null && !object.has(property.getKey())) {
                object.set(property.getKey(), standard.deepCopy());
            }
            JsonNode child = object.get(property.getKey());
            if (child != null) {
                fillDefaults(child, property.getValue());
            }
        });
    }

    private static Finding finding(Error error) {
        JsonPointer place = pointer(error);
        JsonNode rule = ruleAt(place);
        JsonNode value = error.getInstanceNode();
        String shown = value.isContainerNode() ? (value.isArray() ? "a list" : "a group of keys") : value.toString();
        return switch (error.getKeyword()) {
            case "additionalProperties" ->
                new Finding(place.appendProperty(error.getProperty()), Finding.UNKNOWN + keysOf(rule));
            case "required" -> new Finding(place, "key " + error.getProperty() + " is missing");
            case "minItems", "maxItems" ->
                new Finding(
                        place,
                        "has " + value.size() + " entries; allowed: " + rule.path("minItems") + " to "
                                + rule.path("maxItems"));
            default -> new Finding(place, shown + " is not allowed; allowed: " + allowed(rule));
        };
    }

    /** Says in words what a rule of the schema allows. */
    static String allowed(JsonNode rule) {
        if (rule.has("const")) {
            return rule.get("const").asText();
        }
        if (rule.has("enum")) {
            List<String> values = new ArrayList<>();
            rule.get("enum").forEach(value -> values.add(value.asText()));
            return String.join(", ", values);
        }
        if (rule.has("minimum")) {
            JsonNode type = rule.get("type").isArray() ? rule.get("type").get(0) : rule.get("type");
            String number = (type.asText().equals("integer") ? "a whole number " : "a number ")
                    + rule.get("minimum").asText() + " to "
                    + rule.get("maximum").asText() + unit(rule);
            return rule.get("type").isArray() ? number + ", or [lowest, highest] of such" : number;
        }
        if (rule.has("pattern")) {
            String length = rule.has("maxLength")
                    ? " of at most " + rule.get("maxLength").asText() + " characters"
                    : "";
            return "text" + length + " that matches " + rule.get("pattern").asText();
        }
        return switch (rule.path("type").asText()) {
            case "boolean" -> "true or false";
            case "object" -> "a group of the keys " + keysOf(rule);
            case "array" -> "a list of " + rule.path("minItems") + " to " + rule.path("maxItems") + " entries";
            default -> "text of " + rule.path("minLength") + " to " + rule.path("maxLength") + " characters";
        };
    }

    private static String unit(JsonNode rule) {
        return rule.has("x-unit") ? " " + rule.get("x-unit").asText() : "";
    }

    private static String keysOf(JsonNode rule) {
        List<String> keys = new ArrayList<>();
        rule.path("properties").fieldNames().forEachRemaining(keys::add);
        return String.join(", ", keys);
    }

    private static JsonPointer pointer(Error error) {
        JsonPointer place = JsonPointer.empty();
        for (int i = 0; i < error.getInstanceLocation().getNameCount(); i++) {
            Object element = error.getInstanceLocation().getElement(i);
            place = element instanceof Integer index
                    ? place.appendIndex(index)
                    : place.appendProperty(element.toString());
        }
        return place;
    }

    private static JsonNode ruleAt(JsonPointer place) {
        JsonNode rule = TREE;
        for (JsonPointer rest = place; !rest.matches(); rest = rest.tail()) {
            JsonNode properties = rule.path("properties");
            rule = properties.has(rest.getMatchingProperty())
                    ? properties.get(rest.getMatchingProperty())
                    : rule.path("items");
        }
        return rule;
    }

    private static void findBackwardRanges(JsonNode node, JsonNode schema, JsonPointer place, List<Finding> into) {
        if (node.isArray()) {
            boolean range = schema.path("items").has("minimum")
                    && schema.path("maxItems").asInt() == 2;
            if (range && !(node.get(0).doubleValue() <= node.get(1).doubleValue())) {
                into.add(new Finding(place, node + " is not allowed; the first must not exceed the second"));
            }
            for (int i = 0; i < node.size(); i++) {
                findBackwardRanges(node.get(i), schema.path("items"), place.appendIndex(i), into);
            }
        }
        node.properties()
                .forEach(entry -> findBackwardRanges(
                        entry.getValue(),
                        schema.path("properties").path(entry.getKey()),
                        place.appendProperty(entry.getKey()),
                        into));
    }

    private static JsonNode readTree() {
        try (InputStream in = ScenarioSchema.class.getResourceAsStream(RESOURCE)) {
            return new ObjectMapper().readTree(in);
        } catch (IOException e) {
            throw new IllegalStateException("schema cannot be read: " + RESOURCE, e);
        }
    }
}
