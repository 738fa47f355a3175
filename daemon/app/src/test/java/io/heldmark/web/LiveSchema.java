package io.heldmark.web;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import com.fasterxml.jackson.dataformat.yaml.YAMLMapper;
import com.networknt.schema.Schema;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;

/** Holds events against docs/asyncapi.yaml. */
public final class LiveSchema {
    private static final JsonMapper JSON = new JsonMapper();

    private final JsonNode document;
    private final Map<String, Schema> schemas = new TreeMap<>();

    private LiveSchema(JsonNode document) {
        this.document = document;
        SchemaRegistry registry = SchemaRegistry.withDefaultDialect(SpecificationVersion.DRAFT_2020_12);
        for (Map.Entry<String, JsonNode> message :
                document.at("/components/messages").properties()) {
            String reference = message.getValue().at("/payload/$ref").asText();
            if (!reference.isEmpty()) {
                ObjectNode root = document.deepCopy();
                root.put("$ref", reference);
                schemas.put(message.getKey(), registry.getSchema(root));
            }
        }
    }

    /** Reads the document of this repository. */
    public static LiveSchema load() throws IOException {
        ObjectMapper yaml = new YAMLMapper();
        return new LiveSchema(yaml.readTree(Path.of(System.getProperty("heldmark.root"), "docs", "asyncapi.yaml")
                .toFile()));
    }

    /** Returns the whole document. */
    public JsonNode document() {
        return document;
    }

    /** Returns the JSON messages that the document has. */
    public List<String> messages() {
        return new ArrayList<>(schemas.keySet());
    }

    /** Returns what is wrong with an event; empty where nothing is. */
    public List<String> faults(String event) throws IOException {
        JsonNode node = JSON.readTree(event);
        Schema schema = schemas.get(node.path("type").asText());
        if (schema == null) {
            return List.of("type " + node.path("type") + " is not in docs/asyncapi.yaml: " + event);
        }
        List<String> faults = new ArrayList<>();
        schema.validate(node).forEach(error -> faults.add(error + " in " + event));
        return faults;
    }
}
