package io.heldmark.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import io.heldmark.house.DocumentedCommands;
import io.heldmark.record.RecordedItem;
import io.heldmark.record.RecordingReader;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;
import picocli.CommandLine;

/**
 * Every {@code heldmark} command in the pages, run as it stands there, on simulated cells in place of the devices, in a folder
 * and on a port of its own; and the page of the command line against what the program says of itself.
 */
@EnabledOnOs(OS.LINUX)
class HeldmarkCommandsTest {
    private static final Path ROOT = Path.of(System.getProperty("heldmark.root"));
    private static final JsonMapper JSON = new JsonMapper();
    private static final Set<String> SERVING = Set.of("serve", "demo");
    private static final Pattern YAML = Pattern.compile("```yaml\\n(.*?)```", Pattern.DOTALL);

    @TempDir
    Path folder;

    private Path recording = Path.of("");

    @Test
    void shouldRunEveryCommandOfThePages() throws Exception {
        try (Child cells = Child.start(
                "io.heldmark.simulator.cli.SimulatorMain",
                folder,
                List.of(
                        "demo",
                        "--link",
                        "pty",
                        "--pty-dir",
                        folder.resolve("ports").toString()))) {
            cells.awaitLine("{\"cell\":\"left\"");
            prepare();
            Set<List<String>> commands = new LinkedHashSet<>();
            for (DocumentedCommands.Found found : DocumentedCommands.all(ROOT)) {
                List<String> words = DocumentedCommands.words(found.command());
                if (words.get(0).matches("(\\./)?heldmark") && !words.contains("COMMAND")) {
                    commands.add(words.subList(1, words.size()));
                }
            }
            assertTrue(commands.size() >= 20, commands.toString());
            for (List<String> command : commands) {
                run(command);
            }
        }
    }

    /** A recording and a capture for the commands that read one, by the documented command itself. */
    private void prepare() throws Exception {
        Cli.Result made = Cli.run(
                "record", "--left", "serial:" + folder.resolve("ports/left"), "--duration", "2", "--data", data());
        assertEquals(0, made.code(), made.err());
        try (Stream<Path> files = Files.walk(folder.resolve("data"))) {
            recording = files.filter(f -> f.toString().endsWith(".pcapng"))
                    .findFirst()
                    .orElseThrow();
        }
        capture();
        Matcher yaml = YAML.matcher(Files.readString(ROOT.resolve("simulators/README.md")));
        assertTrue(yaml.find(), "the page of the simulators holds a scenario");
        Files.writeString(folder.resolve("my-scenario.yaml"), yaml.group(1));
    }

    /** The bytes of the recorded link, as a capture of the line would hold them. */
    private void capture() throws Exception {
        try (RecordingReader reader = RecordingReader.open(recording);
                OutputStream out = Files.newOutputStream(folder.resolve("capture.bin"))) {
            RecordedItem item = new RecordedItem();
            while (reader.next(item)) {
                if (item.kind() == RecordedItem.Kind.CHUNK) {
                    out.write(item.bytes(), item.offset(), item.length());
                }
            }
        }
    }

    private String data() {
        return folder.resolve("data").toString();
    }

    private void run(List<String> documented) throws Exception {
        List<String> args = new ArrayList<>();
        documented.forEach(word -> args.add(onThisMachine(word)));
        String name = args.get(0);
        boolean viewer = SERVING.contains(name) || (name.equals("replay") && !args.contains("--json"));
        if (viewer) {
            args.addAll(List.of("--port", "0", "--no-browser"));
        }
        if (!args.contains("--data") && takesData(name)) {
            args.addAll(List.of("--data", data()));
        }
        if (viewer) {
            try (Child child = Child.heldmark(folder, args)) {
                child.awaitLine("viewer: http");
                int code = child.terminate();
                assertTrue(code == 0 || code == 143, documented + " ends with " + code + ": " + child.err());
            }
        } else if (name.equals("simulate")) {
            runSimulator(documented, args);
        } else if (name.equals("conform")) {
            runConform(documented, args);
        } else {
            Cli.Result result = Cli.run(args.toArray(String[]::new));
            assertEquals(0, result.code(), documented + ": " + result.err());
        }
    }

    /**
     * Judges times, so a machine that builds gets the largest allowance and three tries; that simulated cells pass every rule is
     * held elsewhere, in virtual time.
     */
    private static void runConform(List<String> documented, List<String> args) {
        int at = args.indexOf("--allowance-ms");
        if (at < 0) {
            args.addAll(List.of("--allowance-ms", "1000"));
        } else {
            args.set(at + 1, "1000");
        }
        Cli.Result result = Cli.run(args.toArray(String[]::new));
        for (int tries = 1; result.code() != 0 && tries < 3; tries++) {
            result = Cli.run(args.toArray(String[]::new));
        }
        assertEquals(0, result.code(), documented + ": " + result.out() + result.err());
    }

    private static boolean takesData(String command) {
        CommandLine known = commands().get(command);
        return known != null && known.getCommandSpec().findOption("--data") != null;
    }

    /** Ends by itself where it has an end that is near; else it is told to end once its ports are there. */
    private void runSimulator(List<String> documented, List<String> args) throws Exception {
        if (args.contains("ble")) {
            runWithoutAdapter(documented, args);
            return;
        }
        boolean ends = args.contains("--list") || args.contains("--duration");
        try (Child child = Child.heldmark(folder, args)) {
            if (!ends) {
                child.awaitLine("{\"cell\":\"left\"");
            }
            int code = ends ? child.awaitEnd() : child.terminate();
            assertTrue(code == 0 || code == 143, documented + " ends with " + code + ": " + child.err());
            assertFalse(child.out().isEmpty(), documented + " prints nothing");
        }
    }

    /** Advertises on an adapter elsewhere ({@code VirtualCellOverBluezTest}); here it ends with one line that says what is missing. */
    private void runWithoutAdapter(List<String> documented, List<String> args) throws Exception {
        try (Child child = Child.heldmark(folder, args)) {
            assertEquals(1, child.awaitEnd(), documented + ": " + child.err());
            assertEquals(1, child.err().size(), documented + ": " + child.err());
            assertTrue(child.err().get(0).contains("D-Bus"), documented + ": " + child.err());
        }
    }

    private String onThisMachine(String word) {
        return switch (word) {
            case "session.pcapng", "FILE" -> recording.toString();
            case "capture.bin", "truth.json", "my-scenario.yaml" ->
                folder.resolve(word).toString();
            case "/tmp/cells" -> folder.resolve("cells").toString();
            case "DIR" -> data();
            case "tcp:9000" -> "tcp:0";
            default ->
                word.startsWith("docs/")
                        ? ROOT.resolve(word).toString()
                        : word.replace(
                                        "/dev/ttyUSB0",
                                        folder.resolve("ports/left").toString())
                                .replace(
                                        "/dev/ttyUSB1",
                                        folder.resolve("ports/right").toString());
        };
    }

    private static Map<String, CommandLine> commands() {
        return Main.commandLine().getSubcommands();
    }

    private static String section(String page, String command) {
        Matcher section = Pattern.compile("## heldmark " + command + "\n(.*?)(?=\n## |\\z)", Pattern.DOTALL)
                .matcher(page);
        assertTrue(section.find(), "docs/command-line.md has no section of heldmark " + command);
        return section.group(1);
    }

    @Test
    void shouldDescribeEveryCommandWithAllItsOptionsAndNoOthers() throws Exception {
        String page = Files.readString(ROOT.resolve("docs/command-line.md"));
        List<String> offences = new ArrayList<>();
        commands().forEach((name, command) -> {
            String text = section(page, name);
            Set<String> known = new LinkedHashSet<>();
            command.getCommandSpec().options().forEach(option -> known.addAll(List.of(option.names())));
            for (String option : known) {
                boolean told = text.contains("`" + option + "`") || text.contains("`" + option + " ");
                if (option.startsWith("--") && !told && !option.matches("--help|--version")) {
                    offences.add(name + ": " + option + " is missing");
                }
            }
            Matcher mentioned = Pattern.compile("(?<![\\w-])--[a-z][a-z-]+").matcher(text);
            while (mentioned.find()) {
                if (!known.contains(mentioned.group())) {
                    offences.add(name + ": there is no " + mentioned.group());
                }
            }
            if (!text.contains("$ heldmark " + name)) {
                offences.add(name + ": no example");
            }
            if (!page.contains("| [" + name + "](#heldmark-" + name + ") |")) {
                offences.add(name + ": not in the table");
            }
        });
        assertEquals(List.of(), offences);
    }

    @Test
    void shouldNameEveryMemberOfItsOutput() throws Exception {
        String page = Files.readString(ROOT.resolve("docs/command-line.md"));
        try (Child cells = Child.start(
                "io.heldmark.simulator.cli.SimulatorMain",
                folder,
                List.of(
                        "demo",
                        "--link",
                        "pty",
                        "--pty-dir",
                        folder.resolve("ports").toString()))) {
            cells.awaitLine("{\"cell\":\"left\"");
            prepare();
        }
        checkMembers(page, "recordings", Cli.run("recordings", "--json", "--data", data()));
        checkMembers(page, "decode", Cli.run("decode", recording.toString(), "--json"));
        checkMembers(
                page, "decode", Cli.run("decode", folder.resolve("capture.bin").toString(), "--json"));
        checkMembers(page, "ports", Cli.run("ports", "--json"));
    }

    private static void checkMembers(String page, String command, Cli.Result result) throws Exception {
        assertEquals(0, result.code(), result.err());
        String text = section(page, command);
        Set<String> missing = new LinkedHashSet<>();
        for (String line : result.lines()) {
            JsonNode node = JSON.readTree(line);
            node.fieldNames().forEachRemaining(name -> {
                if (!text.contains("`" + name + "`")) {
                    missing.add(name);
                }
            });
        }
        assertEquals(Set.of(), missing, command);
    }
}
