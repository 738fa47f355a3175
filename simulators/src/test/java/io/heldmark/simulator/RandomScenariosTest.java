package io.heldmark.simulator;

import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.simulator.math.SeededRandom;
import io.heldmark.simulator.scenario.Scenario;
import io.heldmark.simulator.scenario.ScenarioException;
import io.heldmark.simulator.scenario.ScenarioSchema;
import io.heldmark.simulator.truth.TruthDocument;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;

/**
 * Scenarios drawn from the schema, the ends of every range often among them: whatever is allowed runs, goes forward in time
 * and has a truth; whatever is not is refused in one line.
 */
class RandomScenariosTest {
    private static final int SCENARIOS = 300;
    private static final ObjectMapper MAPPER = new ObjectMapper();

    private SeededRandom random = new SeededRandom(0);

    @Test
    void shouldRunWhateverTheSchemaAndTheRulesAllow() {
        int run = 0;
        for (int seed = 0; seed < SCENARIOS; seed++) {
            random = new SeededRandom(seed).split("schema");
            String text = draw(seed).toString();
            try {
                Scenario scenario = Scenario.parse(text, "seed-" + seed);
                check(scenario, seed);
                run++;
            } catch (ScenarioException e) {
                assertTrue(e.getMessage().lines().count() == 1, e.getMessage());
            } catch (RuntimeException e) {
                throw new AssertionError("seed " + seed + ": " + text, e);
            }
        }
        assertTrue(run > SCENARIOS / 4, "ran " + run);
    }

    private static void check(Scenario scenario, int seed) {
        Reader reader = new Reader(scenario, 0).drain();
        String truth = TruthDocument.write(scenario, List.of(reader.cell.truth()), Map.of());
        assertTrue(truth.contains("heldmark.truth/1") && !truth.contains("NaN"), "seed " + seed);
    }

    private ObjectNode draw(int seed) {
        JsonNode schema = ScenarioSchema.tree().get("properties");
        ObjectNode root = MAPPER.createObjectNode();
        root.put("schema", "heldmark.scenario/1").put("name", "random").put("invented", true);
        root.put("description", "invented").put("seed", seed).put("durationS", 3);
        root.putArray("limbs").add(object(schema.get("limbs").get("items")).put("name", "left"));
        for (String events : List.of("efforts", "disturbances")) {
            ArrayNode array = root.putArray(events);
            for (int i = random.between(0, 3); i > 0; i--) {
                array.add(object(schema.get(events).get("items")));
            }
        }
        ObjectNode cell = object(schema.get("cells").get("items"));
        cell.put("name", "left").put("autostart", random.chance(0.8));
        cell.remove(List.of("supportedRatesHz", "samplesPerFrame"));
        ArrayNode channels = cell.putArray("channels");
        JsonNode channel = schema.get("cells")
                .get("items")
                .get("properties")
                .get("channels")
                .get("items");
        for (int i = random.between(1, 8); i > 0; i--) {
            channels.add(object(channel).put("limb", "left"));
        }
        cell.put("samplesPerFrame", cell.path("binding").asText().equals("text") ? 1 : random.between(1, 31));
        root.putArray("cells").add(cell);
        return root;
    }

    private ObjectNode object(JsonNode schema) {
        ObjectNode object = MAPPER.createObjectNode();
        for (Map.Entry<String, JsonNode> property : schema.get("properties").properties()) {
            boolean required = false;
            for (JsonNode key : schema.get("required")) {
                required |= key.asText().equals(property.getKey());
            }
            if (required || random.chance(0.4)) {
                JsonNode value = value(property.getValue());
                if (!value.isMissingNode()) {
                    object.set(property.getKey(), value);
                }
            }
        }
        return object;
    }

    private JsonNode value(JsonNode rule) {
        if (rule.has("enum")) {
            return rule.get("enum").get(random.between(0, rule.get("enum").size() - 1));
        }
        if (rule.has("properties")) {
            return object(rule);
        }
        if (rule.has("minimum")) {
            return number(rule);
        }
        if (rule.path("type").asText().equals("boolean")) {
            return MAPPER.getNodeFactory().booleanNode(random.chance(0.5));
        }
        return MAPPER.missingNode();
    }

    private JsonNode number(JsonNode rule) {
        double low = rule.get("minimum").doubleValue();
        // Times far away would never happen in the three seconds.
        double high = Math.min(
                rule.get("maximum").doubleValue(), rule.path("x-unit").asText().equals("s") ? 5 : 1e18);
        double value = random.chance(0.2) ? low : random.chance(0.2) ? high : random.between(low, Math.max(low, high));
        boolean whole = rule.get("type").toString().contains("integer");
        return whole
                ? MAPPER.getNodeFactory().numberNode((long) value)
                : MAPPER.getNodeFactory().numberNode(value);
    }
}
