package io.heldmark.simulator.scenario;

import com.fasterxml.jackson.core.JsonPointer;
import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.StreamReadFeature;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import com.fasterxml.jackson.dataformat.yaml.YAMLFactory;
import com.fasterxml.jackson.dataformat.yaml.YAMLMapper;
import java.io.IOException;
import java.util.Comparator;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Reads one scenario: YAML, schema, defaults, then the rules that tie keys to each other. */
final class ScenarioReader {
    private static final YAMLFactory FACTORY = YAMLFactory.builder()
            .enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION)
            .build();
    private static final ObjectMapper MAPPER = YAMLMapper.builder(FACTORY)
            .enable(DeserializationFeature.FAIL_ON_TRAILING_TOKENS)
            .enable(DeserializationFeature.USE_BIG_DECIMAL_FOR_FLOATS)
            .build();
    private static final Pattern INDEX = Pattern.compile("/(\\d+)(?=/|$)");

    private final String yaml;
    private final String name;

    ScenarioReader(String yaml, String name) {
        this.yaml = yaml;
        this.name = name;
    }

    Scenario read() {
        try {
            JsonNode document = MAPPER.readTree(yaml);
            if (!(document instanceof ObjectNode tree)) {
                throw new ScenarioException(name + ":1: not a scenario; it begins with schema: heldmark.scenario/1");
            }
            LineMap lines = new LineMap(FACTORY, yaml);
            refuseFirst(ScenarioSchema.findings(tree), lines);
            ScenarioSchema.fillDefaults(tree, ScenarioSchema.tree());
            tree.remove("schema");
            Scenario scenario = MAPPER.treeToValue(tree, Scenario.class);
            refuseFirst(ScenarioRules.findings(scenario), lines);
            return scenario;
        } catch (JsonProcessingException e) {
            int line = e.getLocation() == null ? 1 : Math.max(1, e.getLocation().getLineNr());
            throw new ScenarioException(name + ":" + line + ": not YAML: " + oneLine(e.getOriginalMessage()));
        } catch (IOException e) {
            throw new ScenarioException(name + ": cannot be read: " + oneLine(String.valueOf(e.getMessage())));
        }
    }

    private void refuseFirst(List<ScenarioSchema.Finding> findings, LineMap lines) {
        findings.stream()
                // A wrong key explains the missing one better than the other way round.
                .min(Comparator.comparing((ScenarioSchema.Finding finding) -> !finding.unknownKey())
                        .thenComparingInt(finding -> lines.lineOf(finding.place()))
                        .thenComparing(finding -> finding.place().toString()))
                .ifPresent(first -> {
                    int line = lines.lineOf(first.place());
                    int others = findings.size() - 1;
                    String more = others == 0 ? "" : " (and " + others + " more)";
                    throw new ScenarioException(
                            name + ":" + line + ": " + dotted(first.place()) + ": " + first.text() + more);
                });
    }

    /** Writes a pointer as people write it: {@code cells[0].adc.bits}. */
    private static String dotted(JsonPointer place) {
        Matcher matcher = INDEX.matcher(place.toString());
        String text = matcher.replaceAll("[$1]").replace('/', '.');
        return text.startsWith(".") ? text.substring(1) : text.isEmpty() ? "the file" : text;
    }

    private static String oneLine(String text) {
        String first = text.lines().findFirst().orElse("");
        return first.length() > 160 ? first.substring(0, 160) : first;
    }
}
