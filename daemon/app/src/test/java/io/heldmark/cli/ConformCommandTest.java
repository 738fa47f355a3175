package io.heldmark.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.BufferedReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** {@code heldmark conform} over real links: the reference sender in C, and simulated cells that break a rule. */
@EnabledOnOs(OS.LINUX)
class ConformCommandTest {
    private static final Path ROOT = Path.of(System.getProperty("heldmark.root"));
    private static final JsonMapper JSON = new JsonMapper();

    @TempDir
    Path folder;

    @ParameterizedTest
    @ValueSource(strings = {"bytes 1000", "text 80"})
    void shouldPassTheReferenceSender(String arguments) throws Exception {
        Path sender = compile();
        List<String> command = new ArrayList<>(List.of(sender.toString()));
        command.addAll(List.of(arguments.split(" ", -1)));
        Process process = new ProcessBuilder(command)
                .redirectError(ProcessBuilder.Redirect.DISCARD)
                .start();
        try (BufferedReader out = process.inputReader(StandardCharsets.UTF_8)) {
            // A machine under load adds to the times: what is tried here are the bytes, the allowance is at its end.
            Cli.Result result = conform("serial:" + out.readLine(), "--stream-seconds", "4", "--allowance-ms", "1000");
            assertEquals(0, result.code(), result.out() + result.err());
            assertTrue(result.out().contains("reference-sender conforms, as far as it was seen"), result.out());
            assertTrue(result.out().contains("pass      set-rate"), result.out());
            assertTrue(result.out().contains("pass      recovery"), result.out());
        } finally {
            process.destroy();
        }
    }

    private Path compile() throws Exception {
        Path sender = folder.resolve("pty");
        Process gcc = new ProcessBuilder(
                        "gcc",
                        "-std=c99",
                        "-O2",
                        ROOT.resolve("protocol-spec/sender/test/pty.c").toString(),
                        "-o",
                        sender.toString())
                .inheritIO()
                .start();
        assertEquals(0, gcc.waitFor());
        return sender;
    }

    @Test
    void shouldFailABrokenCellAndWriteBothReports() throws Exception {
        try (Child cell = simulator("types")) {
            String link = JSON.readTree("{" + cell.awaitLine("{\"cell\":\"board\","))
                    .get("link")
                    .asText();
            Cli.Result result = conform(link, "--stream-seconds", "4", "--allowance-ms", "1000", "--json");
            assertEquals(1, result.code(), result.err());
            JsonNode document = JSON.readTree(result.out());
            assertEquals("heldmark.conformance/1", document.get("schema").asText());
            List<String> failed = new ArrayList<>();
            for (JsonNode rule : document.get("rules")) {
                if (rule.get("outcome").asText().equals("fail")) {
                    failed.add(rule.get("rule").asText());
                    assertEquals(
                            "06 06 01 02 4F 6D 00", rule.at("/evidence/0/hex").asText());
                }
            }
            assertEquals(List.of("types"), failed);
            checkFiles(document);
        }
    }

    private void checkFiles(JsonNode document) throws Exception {
        List<Path> files;
        try (Stream<Path> all = Files.list(folder.resolve("data/conformance"))) {
            files = all.sorted().toList();
        }
        assertEquals(2, files.size(), files.toString());
        assertEquals(document, JSON.readTree(Files.readString(files.get(0))));
        String markdown = Files.readString(files.get(1));
        assertTrue(markdown.contains("# Conformance of sim-board\n"), markdown);
        assertTrue(markdown.contains("| fail | `types` |"), markdown);
        assertTrue(markdown.contains("came: 06 06 01 02 4F 6D 00\n"), markdown);
    }

    @Test
    void shouldSayThatNothingIsThere() {
        Cli.Result result = conform("serial:" + folder.resolve("none"), "--wait-seconds", "0.2");
        assertEquals(1, result.code());
        assertTrue(result.err().contains("heldmark: serial:" + folder.resolve("none") + ": no link: "), result.err());
        assertTrue(Files.notExists(folder.resolve("data/conformance")));
    }

    @Test
    void shouldRefuseWhatIsOutOfRange() {
        Cli.Result result = conform("tcp:localhost:1", "--stream-seconds", "2");
        assertEquals(2, result.code());
        assertTrue(result.err().contains("--stream-seconds 2.0 is not allowed; allowed: 3 to 600"), result.err());
    }

    private Cli.Result conform(String link, String... more) {
        List<String> args = new ArrayList<>(
                List.of("conform", link, "--data", folder.resolve("data").toString()));
        args.addAll(List.of(more));
        return Cli.run(args.toArray(String[]::new));
    }

    private Child simulator(String rule) throws Exception {
        Path scenario = folder.resolve("board.yaml");
        Files.writeString(
                scenario,
                String.join(
                        "\n",
                        "schema: heldmark.scenario/1",
                        "name: board",
                        "invented: true",
                        "description: A cell that breaks a rule.",
                        "limbs: [{name: left, maxForceN: 300}]",
                        "cells: [{name: board, nonconforming: " + rule + ", channels: [{limb: left}]}]"));
        return Child.start(
                "io.heldmark.simulator.cli.SimulatorMain", folder, List.of(scenario.toString(), "--link", "tcp:0"));
    }
}
