package io.heldmark.simulator.scenario;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;

/**
 * The README's reference is made from the schema. To write it anew: {@code HELDMARK_WRITE_DOCS=1 mvn -pl simulators -am test
 * -Dtest=ScenarioReferenceTest -Dsurefire.failIfNoSpecifiedTests=false}.
 */
class ScenarioReferenceTest {
    private static final Path README = Path.of(System.getProperty("heldmark.root"), "simulators", "README.md");
    private static final String BEGIN = "<!-- reference: made from the schema -->\n";
    private static final String END = "<!-- reference: end -->\n";

    @Test
    void shouldDocumentEveryKeyAsTheSchemaHasIt() throws IOException {
        String text = Files.readString(README);
        int begin = text.indexOf(BEGIN) + BEGIN.length();
        int end = text.indexOf(END);
        assertTrue(begin > BEGIN.length() && end >= begin, "the README holds a place for the reference");
        String reference = reference();
        if (System.getenv("HELDMARK_WRITE_DOCS") != null) {
            Files.writeString(README, text.substring(0, begin) + reference + text.substring(end));
            return;
        }
        assertEquals(reference, text.substring(begin, end));
    }

    @Test
    void shouldRunEveryScenarioThatTheReadmeShows() throws IOException {
        Matcher blocks = Pattern.compile("```yaml\n(.*?)```", Pattern.DOTALL).matcher(Files.readString(README));
        int found = 0;
        while (blocks.find()) {
            Scenario.parse(blocks.group(1), "README.md");
            found++;
        }
        assertTrue(found >= 1);
    }

    @Test
    void shouldNameEveryBundledScenario() throws IOException {
        String text = Files.readString(README);
        for (String name : Scenario.BUNDLED) {
            assertTrue(text.contains("| `" + name + "` |"), name);
        }
    }

    private static String reference() {
        StringBuilder out = new StringBuilder();
        write("", ScenarioSchema.tree(), out);
        return out.toString();
    }

    private static void write(String path, JsonNode schema, StringBuilder out) {
        String title = path.isEmpty() ? "The file" : "`" + path + "`";
        out.append("\n### ").append(title).append("\n\n");
        if (!path.isEmpty()) {
            out.append(schema.get("description").asText()).append("\n\n");
        }
        out.append("| key | allowed | default | meaning |\n|---|---|---|---|\n");
        List<Map.Entry<String, JsonNode>> groups = new ArrayList<>();
        for (Map.Entry<String, JsonNode> property : schema.get("properties").properties()) {
            JsonNode rule = property.getValue();
            boolean list = rule.path("items").has("properties");
            if (list || rule.has("properties")) {
                groups.add(property);
            }
            boolean required = false;
            for (JsonNode key : schema.get("required")) {
                required |= key.asText().equals(property.getKey());
            }
            out.append("| `").append(property.getKey()).append("` | ").append(cell(allowed(rule, list)));
            out.append(" | ").append(cell(standard(rule, required))).append(" | ");
            out.append(cell(rule.get("description").asText())).append(" |\n");
        }
        for (Map.Entry<String, JsonNode> group : groups) {
            boolean list = group.getValue().has("items");
            String name = (path.isEmpty() ? "" : path + ".") + group.getKey() + (list ? "[]" : "");
            write(name, list ? group.getValue().get("items") : group.getValue(), out);
        }
    }

    private static String allowed(JsonNode rule, boolean list) {
        if (list) {
            return rule.get("minItems") + " to " + rule.get("maxItems") + " entries, see below";
        }
        return rule.has("properties") ? "keys, see below" : ScenarioSchema.allowed(rule);
    }

    private static String standard(JsonNode rule, boolean required) {
        if (required) {
            return "must be given";
        }
        if (!rule.has("default") || rule.has("properties")) {
            return "";
        }
        String text = rule.get("default").toString();
        return text.equals("\"\"") ? "empty" : "`" + text.replace("\"", "") + "`";
    }

    private static String cell(String text) {
        return text.replace("|", "\\|");
    }
}
