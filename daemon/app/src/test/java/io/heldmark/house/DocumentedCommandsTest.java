package io.heldmark.house;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.house.DocumentedCommands.Found;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeSet;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/**
 * Every command in the pages is run by somebody: those of {@code heldmark} by {@code HeldmarkCommandsTest}, the others where this list says.
 * A command that nobody runs fails here.
 */
class DocumentedCommandsTest {
    private static final Path ROOT =
            Path.of(System.getProperty("heldmark.root")).toAbsolutePath();

    /** Whole commands that are run elsewhere, and the file that runs them. */
    private static final Map<String, String> ELSEWHERE = Map.of(
            "./verify", ".ci/run",
            "mvn verify", "verify",
            "gcc -std=c99 -O2 protocol-spec/sender/test/pty.c -o pty",
                    "daemon/app/src/test/java/io/heldmark/cli/ConformCommandTest.java",
            "./pty bytes 1000", "daemon/app/src/test/java/io/heldmark/cli/ConformCommandTest.java",
            "capinfos heldmark-20260101-093000.pcapng",
                    "daemon/core/src/test/java/io/heldmark/record/CaptureToolsTest.java",
            "tshark -r heldmark-20260101-093000.pcapng -Y \"frame.interface_id == 1\"",
                    "daemon/core/src/test/java/io/heldmark/record/CaptureToolsTest.java");

    private final List<String> offences = new ArrayList<>();

    @Test
    void shouldKnowWhoRunsEveryDocumentedCommand() {
        List<Found> all = DocumentedCommands.all(ROOT);
        assertTrue(all.size() > 30, "commands: " + all.size());
        all.forEach(this::check);
        assertEquals(List.of(), offences);
    }

    @Test
    void shouldReadBlocksAndWords() {
        assertEquals(
                List.of("heldmark", "serve", "--left", "tcp:localhost:9000#0", "a b"),
                DocumentedCommands.words("heldmark serve  --left 'tcp:localhost:9000#0' 'a b'   # a remark"));
        TreeSet<String> pages = new TreeSet<>();
        DocumentedCommands.all(ROOT).forEach(f -> pages.add(f.place().replaceAll(":\\d+$", "")));
        assertTrue(
                pages.containsAll(
                        List.of("README.md", "DEVELOPERS.md", "docs/command-line.md", "docs/tutorial/first-trace.md")),
                pages.toString());
    }

    private void check(Found found) {
        List<String> words = DocumentedCommands.words(found.command());
        String first = words.get(0);
        String whole = String.join(" ", words);
        if (first.equals("heldmark") || first.equals("./heldmark")) {
            return; // HeldmarkCommandsTest takes each of them.
        }
        String place = ELSEWHERE.get(whole);
        if (place != null) {
            checkMentioned(found, place, first.replaceAll("^\\./", ""));
        } else if (first.equals("mvn") && !value(words, "-Dtest=").isEmpty()) {
            checkTests(found, words);
        } else if (whole.startsWith("mvn spotless:apply")) {
            checkMentioned(found, "pom.xml", "spotless-maven-plugin");
        } else if (first.equals("npm")) {
            checkMentioned(found, "viewer-web/package.json", '"' + words.get(words.indexOf("run") + 1) + "\": \"");
        } else {
            checkScript(found, first.equals("/usr/bin/python3") ? words.subList(1, words.size()) : words);
        }
    }

    /** A test by name, with the properties that it reads. */
    private void checkTests(Found found, List<String> words) {
        String source = readTest(value(words, "-Dtest="));
        if (source.isEmpty()) {
            offences.add(found + ": there is no such test");
        }
        for (String word : words) {
            if (word.startsWith("-Dheldmark.")) {
                String property = word.substring(2).replaceAll("=.*", "");
                if (!source.contains('"' + property + '"') && !property.equals("heldmark.regenerate")) {
                    offences.add(found + ": the test does not read " + property);
                }
            }
        }
    }

    /** A script of the project, for long runs by hand: it is there, it can be run, and it knows each option. */
    private void checkScript(Found found, List<String> words) {
        Path script = ROOT.resolve(words.get(0));
        if (!words.get(0).contains("/") || !Files.isRegularFile(script)) {
            offences.add(found + ": nobody runs this command");
            return;
        }
        if (!script.toString().endsWith(".py") && !Files.isExecutable(script)) {
            offences.add(found + ": cannot be run");
        }
        String source = read(script);
        for (String word : words) {
            if (word.startsWith("--") && !source.contains('"' + word + '"') && !source.contains(word + ")")) {
                offences.add(found + ": does not know " + word);
            }
        }
    }

    private void checkMentioned(Found found, String place, String text) {
        if (!Files.isRegularFile(ROOT.resolve(place))
                || !read(ROOT.resolve(place)).contains(text)) {
            offences.add(found + ": not run by " + place);
        }
    }

    private static String value(List<String> words, String begin) {
        return words.stream()
                .filter(w -> w.startsWith(begin))
                .map(w -> w.substring(begin.length()))
                .findFirst()
                .orElse("");
    }

    private static String readTest(String name) {
        for (String module : List.of("daemon/core", "daemon/app", "daemon/export", "simulators", "protocol-spec")) {
            try (Stream<Path> files = Files.walk(ROOT.resolve(module).resolve("src/test/java"))) {
                Path file = files.filter(f -> f.getFileName().toString().equals(name + ".java"))
                        .findFirst()
                        .orElse(null);
                if (file != null) {
                    return read(file);
                }
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            }
        }
        return "";
    }

    private static String read(Path file) {
        try {
            return Files.readString(file);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
