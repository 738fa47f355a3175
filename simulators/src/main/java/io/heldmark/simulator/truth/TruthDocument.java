package io.heldmark.simulator.truth;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.SerializationFeature;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.simulator.scenario.Scenario;
import java.util.List;
import java.util.Map;

/** Writes truth as JSON, format {@value #SCHEMA}; described in {@code simulators/README.md}. Not-a-number is left out. */
public final class TruthDocument {
    /** Format and version of the document. */
    public static final String SCHEMA = "heldmark.truth/1";

    private static final ObjectMapper MAPPER = new ObjectMapper().enable(SerializationFeature.INDENT_OUTPUT);

    private TruthDocument() {}

    /**
     * Returns the truth of all cells of a scenario.
     *
     * @param scenario the scenario.
     * @param cells truth of each cell.
     * @param run facts of a run in real time, such as when it began; empty for none.
     */
    public static String write(Scenario scenario, List<CellTruth> cells, Map<String, Object> run) {
        ObjectNode root = MAPPER.createObjectNode();
        root.put("schema", SCHEMA);
        root.put("scenario", scenario.name());
        root.put("invented", true);
        root.put("seed", scenario.seed());
        run.forEach((key, value) -> root.set(key, MAPPER.valueToTree(value)));
        ArrayNode array = root.putArray("cells");
        cells.forEach(cell -> array.add(cell(cell)));
        try {
            return MAPPER.writeValueAsString(root) + "\n";
        } catch (JsonProcessingException e) {
            throw new IllegalStateException("truth cannot be written as JSON", e);
        }
    }

    private static ObjectNode cell(CellTruth cell) {
        ObjectNode node = MAPPER.createObjectNode();
        node.put("cell", cell.cell());
        node.put("deviceId", cell.deviceId());
        node.put("sampleRateHz", cell.sampleRateHz());
        node.put("converterDelayS", cell.converterDelayS());
        node.put("untilS", cell.untilS());
        node.put("samplesTaken", cell.samplesTaken());
        node.put("messagesSent", cell.messagesSent());
        node.set("clock", clock(cell.clock()));
        ArrayNode channels = node.putArray("channels");
        cell.channels().forEach(channel -> channels.add(channel(channel)));
        node.set("damage", MAPPER.valueToTree(cell.damage()));
        node.put("damageDropped", cell.damageDropped());
        return node;
    }

    private static ObjectNode clock(ClockTruth clock) {
        ObjectNode node = MAPPER.createObjectNode();
        node.put("tickRateHz", clock.tickRateHz());
        node.put("offsetPpm", clock.offsetPpm());
        ArrayNode wander = node.putArray("wanderPpm");
        for (int i = 0; i < clock.wanderPpm().terms(); i++) {
            wander.addObject()
                    .put("amplitudePpm", clock.wanderPpm().amplitude(i))
                    .put("frequencyHz", clock.wanderPpm().frequencyHz(i))
                    .put("phaseCycles", clock.wanderPpm().phaseCycles(i));
        }
        node.set("segments", MAPPER.valueToTree(clock.segments()));
        return node;
    }

    private static ObjectNode channel(ChannelTruth channel) {
        ObjectNode node = MAPPER.createObjectNode();
        node.put("channel", channel.index());
        node.put("name", channel.name());
        node.put("limb", channel.limb());
        node.put("share", channel.share());
        node.put("countsPerNewton", channel.countsPerNewton());
        node.put("zeroCounts", channel.zeroCounts());
        ArrayNode contractions = node.putArray("contractions");
        channel.contractions().forEach(contraction -> contractions.add(withoutNaN(MAPPER.valueToTree(contraction))));
        node.set("disturbances", MAPPER.valueToTree(channel.disturbances()));
        return node;
    }

    private static JsonNode withoutNaN(ObjectNode node) {
        node.properties().removeIf(entry -> Double.isNaN(entry.getValue().asDouble(0)));
        return node;
    }
}
