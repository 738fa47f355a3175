package io.heldmark.web;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import io.heldmark.model.RecordingState;
import io.heldmark.model.ReplayState;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** docs/asyncapi.yaml against docs/live-protocol.md and against events. */
class AsyncApiTest {
    private final LiveSchema schema;

    AsyncApiTest() throws Exception {
        schema = LiveSchema.load();
    }

    @Test
    void shouldListEveryEventOfTheProse() throws Exception {
        String prose = Files.readString(Path.of(System.getProperty("heldmark.root"), "docs", "live-protocol.md"));
        String table =
                prose.substring(prose.indexOf("| type | when | fields |"), prose.indexOf("### Viewer to station"));
        Set<String> types = new TreeSet<>();
        Matcher row = Pattern.compile("(?m)^\\| `([a-z]+)` \\|").matcher(table);
        while (row.find()) {
            types.add(row.group(1));
        }
        types.add("painted");
        assertEquals(types, new TreeSet<>(schema.messages()));
    }

    @Test
    void shouldHangTogether() {
        JsonNode document = schema.document();
        assertEquals("3.0.0", document.path("asyncapi").asText());
        Set<String> declared = names(document.at("/components/messages"));
        assertEquals(declared, names(document.at("/channels/live/messages")));
        Set<String> used = new TreeSet<>();
        for (JsonNode operation : document.path("operations")) {
            for (JsonNode message : operation.path("messages")) {
                String reference = message.path("$ref").asText();
                used.add(reference.substring(reference.lastIndexOf('/') + 1));
            }
        }
        assertEquals(declared, used);
        for (JsonNode reference : document.findValues("$ref")) {
            assertFalse(document.at(reference.asText().substring(1)).isMissingNode(), reference.asText());
        }
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "{\"type\":\"painted\",\"sequence\":7}",
                "{\"type\":\"target\"}",
                "{\"type\":\"target\",\"forceN\":200,\"tolerancePercent\":10}",
                "{\"type\":\"trials\"}",
                "{\"type\":\"trials\",\"cue\":\"ramped\",\"bodyMassKg\":71.5,\"right\":{\"ownMaximumN\":400}}",
                "{\"type\":\"recording\",\"state\":\"off\"}",
                "{\"type\":\"tap\",\"state\":\"refused\",\"leftChannel\":0,\"rightChannel\":1,\"reason\":\"why\"}",
                "{\"type\":\"tap\",\"state\":\"measured\",\"leftChannel\":0,\"rightChannel\":1,\"count\":2,"
                        + "\"offset\":{\"value\":0.004,\"standardUncertainty\":0.0001,\"unit\":\"s\"},"
                        + "\"standardDeviationS\":0.0001,\"clocksStandardUncertaintyS\":0.0002,"
                        + "\"untiedStandardUncertaintyS\":0.003}",
                "{\"type\":\"zero\",\"channel\":0,\"state\":\"taken\",\"atS\":3.2,"
                        + "\"zero\":{\"value\":1.5,\"standardUncertainty\":0.1,\"unit\":\"N\"}}",
                "{\"type\":\"latency\",\"arrivalToSentMs\":{\"count\":9,\"p50\":1,\"p95\":2,\"p99\":3,\"max\":4}}",
                "{\"type\":\"viewer\",\"delivery\":\"reduced\",\"reason\":\"slow network\"}",
                "{\"type\":\"effort\",\"id\":1,\"leftContractionId\":1,\"rightContractionId\":2,\"onsetLagS\":-0.01,"
                        + "\"onsetLagStandardUncertaintyS\":0.001,\"asymmetry\":{\"id\":\"asymmetry.log\","
                        + "\"notComputed\":\"why\"},\"formula\":\"words\",\"flags\":[]}",
            })
    void shouldAllowWhatTheProseAllows(String event) throws Exception {
        assertEquals(List.of(), schema.faults(event));
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "{\"type\":\"unheard\"}",
                "{\"type\":\"target\",\"forceN\":200}",
                "{\"type\":\"mark\",\"atS\":1,\"text\":null}",
                "{\"type\":\"mark\",\"atS\":1,\"text\":\"x\",\"more\":1}",
                "{\"type\":\"trials\",\"mood\":1}",
                "{\"type\":\"recording\",\"state\":\"paused\"}",
                "{\"type\":\"latency\",\"arrivalToSentMs\":{\"count\":0,\"p50\":1,\"p95\":2,\"p99\":3,\"max\":4}}",
                "{\"type\":\"effort\",\"id\":1,\"leftContractionId\":1,\"rightContractionId\":2,\"onsetLagS\":-0.01,"
                        + "\"onsetLagStandardUncertaintyS\":0.001,\"asymmetry\":{\"id\":\"asymmetry.log\","
                        + "\"value\":1,\"notComputed\":\"why\"},\"formula\":\"words\",\"flags\":[]}",
            })
    void shouldRefuseWhatTheProseDoesNotAllow(String event) throws Exception {
        assertTrue(!schema.faults(event).isEmpty(), event);
    }

    @Test
    void shouldFitTheAnswersOfTheHttpInterface() throws Exception {
        RecordingState on = new RecordingState("on", "a.pcapng", 1, 2_000_000_000L, false, "began late");
        assertEquals(List.of(), schema.faults(RecordingRoutes.json(on).toString()));
        ReplayState replay = new ReplayState("a.pcapng", 1, 2, 0.5, true, false);
        assertEquals(List.of(), schema.faults(ReplayRoutes.json(replay).toString()));
    }

    private static Set<String> names(JsonNode node) {
        Set<String> names = new TreeSet<>();
        node.properties().forEach(entry -> names.add(entry.getKey()));
        return names;
    }
}
