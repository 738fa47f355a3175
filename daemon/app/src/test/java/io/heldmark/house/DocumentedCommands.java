package io.heldmark.house;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.regex.Pattern;
import java.util.stream.Stream;

/**
 * Every command in a code block of the pages for people.
 *
 * <p><b>Rule.</b> Blocks are fences without a language or with {@code console}, {@code sh} or {@code bash}, and paragraphs that are
 * indented by four spaces. In {@code console} a command begins with {@code $} and what follows is its output; in every other
 * block each line is a command. Drawings and data are named in {@link #DRAWINGS} by their first line; a formula reads {@code f(x) = ...}.
 */
public final class DocumentedCommands {
    private static final Set<String> COMMAND_FENCES = Set.of("", "console", "sh", "bash");
    private static final Set<String> DRAWINGS = Set.of("LEARNING --0.3 s of quiet--> RESTING", "time_s,");
    private static final Pattern FORMULA = Pattern.compile("\\S+\\(\\S+\\) = .*");

    /** A command, and where it stands. */
    public record Found(String place, String command) {}

    private DocumentedCommands() {}

    /** Returns the commands of README.md, DEVELOPERS.md, simulators/README.md and everything under docs. */
    public static List<Found> all(Path root) {
        List<Path> pages = new ArrayList<>(List.of(
                root.resolve("README.md"), root.resolve("DEVELOPERS.md"), root.resolve("simulators/README.md")));
        try (Stream<Path> docs = Files.walk(root.resolve("docs"))) {
            docs.filter(page -> page.toString().endsWith(".md")).sorted().forEach(pages::add);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        List<Found> found = new ArrayList<>();
        pages.forEach(page -> new Page(root.relativize(page).toString(), found).read(page));
        return found;
    }

    /** Returns the words of a command: parted by spaces, single quotes taken off, a remark at its end left out. */
    public static List<String> words(String command) {
        List<String> words = new ArrayList<>();
        StringBuilder word = new StringBuilder();
        boolean quoted = false;
        for (char c : (command + " ").toCharArray()) {
            if (c == '\'') {
                quoted = !quoted;
            } else if (c == ' ' && !quoted) {
                if (word.toString().equals("#")) {
                    return words;
                }
                if (!word.isEmpty()) {
                    words.add(word.toString());
                }
                word.setLength(0);
            } else {
                word.append(c);
            }
        }
        return words;
    }

    private static final class Page {
        private final String name;
        private final List<Found> found;
        private String fence = "";
        private boolean fenced;
        private boolean indented;
        private boolean drawing;
        private boolean remark;
        private boolean afterBlank = true;

        Page(String name, List<Found> found) {
            this.name = name;
            this.found = found;
        }

        void read(Path page) {
            try {
                int number = 0;
                for (String line : Files.readAllLines(page)) {
                    take(line, name + ":" + ++number);
                }
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            }
        }

        private void take(String line, String place) {
            if (line.startsWith("```")) {
                fenced = !fenced;
                fence = line.substring(3).strip();
                drawing = false;
            } else if (fenced) {
                if (COMMAND_FENCES.contains(fence) && !line.isBlank()) {
                    takeCommand(line, place, fence.equals("console"));
                }
            } else {
                takeProse(line, place);
            }
        }

        private void takeProse(String line, String place) {
            remark = (remark || line.startsWith("<!--")) && !line.contains("-->");
            boolean begins = line.startsWith("    ") && (afterBlank || indented);
            indented = begins || (indented && line.isBlank());
            drawing &= indented;
            if (begins && !line.isBlank()) {
                takeCommand(line, place, false);
            }
            afterBlank = line.isBlank() || remark;
        }

        private void takeCommand(String line, String place, boolean console) {
            String text = line.strip();
            drawing |= FORMULA.matcher(text).matches() || DRAWINGS.stream().anyMatch(text::startsWith);
            if (drawing || (console && !text.startsWith("$ "))) {
                return;
            }
            found.add(new Found(place, console ? text.substring(2) : text));
        }
    }
}
