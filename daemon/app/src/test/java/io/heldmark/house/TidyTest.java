package io.heldmark.house;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.sun.source.tree.CompilationUnitTree;
import com.sun.source.tree.MethodTree;
import com.sun.source.util.JavacTask;
import com.sun.source.util.SourcePositions;
import com.sun.source.util.TreeScanner;
import com.sun.source.util.Trees;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import javax.tools.ToolProvider;
import org.junit.jupiter.api.Test;

/** The house rules that no compiler checks, over every file of the project that git would keep. */
class TidyTest {
    private static final Path ROOT =
            Path.of(System.getProperty("heldmark.root")).toAbsolutePath();
    private static final int FILE_LINES_MAX = 400;
    private static final int METHOD_LINES_MAX = 50;
    private static final Set<String> TEXT_ENDINGS = Set.of(
            "java", "ts", "tsx", "mjs", "css", "html", "md", "xml", "yaml", "yml", "json", "py", "sh", "c", "h", "lua");
    private static final List<Path> FILES = listFiles();

    @Test
    void shouldKeepSourceFilesShort() {
        List<String> offences = new ArrayList<>();
        for (Path file : sources("java", "ts", "tsx", "mjs", "css")) {
            int lines = lines(file).size();
            if (lines > FILE_LINES_MAX) {
                offences.add(name(file) + " has " + lines + " lines");
            }
        }
        assertNone(offences, "files of at most " + FILE_LINES_MAX + " lines");
    }

    @Test
    void shouldKeepMethodsShort() throws IOException {
        List<String> offences = new ArrayList<>();
        List<Path> files = sources("java");
        assertTrue(files.size() > 50, "the whole project is looked at");
        var compiler = ToolProvider.getSystemJavaCompiler();
        try (var manager = compiler.getStandardFileManager(null, null, StandardCharsets.UTF_8)) {
            var task = (JavacTask)
                    compiler.getTask(null, manager, null, null, null, manager.getJavaFileObjectsFromPaths(files));
            SourcePositions positions = Trees.instance(task).getSourcePositions();
            for (CompilationUnitTree unit : task.parse()) {
                new MethodLengths(unit, positions, offences).scan(unit, null);
            }
        }
        assertNone(offences, "methods of at most " + METHOD_LINES_MAX + " lines");
    }

    @Test
    void shouldLeaveNothingForLater() {
        assertNoMatch(Pattern.compile("\\b(?:TO" + "DO|FIX" + "ME|XX" + "X)\\b|@Dis" + "abled"), "work left for later");
    }

    @Test
    void shouldSpeakOfItselfAlone() {
        Pattern places = Pattern.compile(
                "(?<![\\w.])/(?:work|root|home/[a-z]{2,})/|registry\\.npm" + "js|repo1?\\.maven"
                        + "|repo\\.maven\\.apache|deb\\.debian",
                Pattern.CASE_INSENSITIVE);
        assertNoMatch(places, "paths of a machine or hosts of a registry");
    }

    @Test
    void shouldEndLinesAndFilesProperly() {
        List<String> offences = new ArrayList<>();
        for (Path file : FILES) {
            String text = read(file);
            if (text.indexOf('\r') >= 0) {
                offences.add(name(file) + " has carriage returns");
            }
            if (!text.isEmpty() && !text.endsWith("\n")) {
                offences.add(name(file) + " does not end with a line feed");
            }
        }
        assertNone(offences, "lines that end with a line feed");
    }

    @Test
    void shouldDescribeEveryPackage() {
        List<String> offences = new ArrayList<>();
        Set<Path> folders = new TreeSet<>();
        for (Path file : sources("java")) {
            if (name(file).contains("src/main/java")) {
                folders.add(file.getParent());
            }
        }
        for (Path folder : folders) {
            Path info = folder.resolve("package-info.java");
            if (!Files.exists(info) || !read(info).contains("@NullMarked")) {
                offences.add(name(folder) + " has no package-info.java with @NullMarked");
            }
        }
        assertNone(offences, "packages that say what they are for");
    }

    @Test
    void shouldLinkToFilesThatExist() {
        Pattern link = Pattern.compile("\\]\\(([^)#\\s:]+)(?:#[^)]*)?\\)");
        List<String> offences = new ArrayList<>();
        int found = 0;
        for (Path file : sources("md")) {
            Matcher matcher = link.matcher(read(file));
            while (matcher.find()) {
                found++;
                if (!Files.exists(file.resolveSibling(matcher.group(1)))) {
                    offences.add(name(file) + " links to " + matcher.group(1));
                }
            }
        }
        assertTrue(found > 0, "some links are checked");
        assertNone(offences, "links that lead somewhere");
    }

    private static void assertNoMatch(Pattern pattern, String what) {
        List<String> offences = new ArrayList<>();
        for (Path file : FILES) {
            List<String> lines = lines(file);
            for (int i = 0; i < lines.size(); i++) {
                if (pattern.matcher(lines.get(i)).find()) {
                    offences.add(
                            name(file) + ":" + (i + 1) + ": " + lines.get(i).strip());
                }
            }
        }
        assertNone(offences, "no " + what);
    }

    private static void assertNone(List<String> offences, String rule) {
        assertEquals("", String.join("\n", offences), "rule: " + rule);
    }

    private static List<Path> sources(String... endings) {
        return FILES.stream()
                .filter(file -> Set.of(endings).contains(ending(file)))
                .toList();
    }

    private static List<Path> listFiles() {
        try (Stream<Path> all = Files.walk(ROOT)) {
            return all.filter(Files::isRegularFile)
                    .filter(file -> TEXT_ENDINGS.contains(ending(file)) && isOurs(ROOT.relativize(file)))
                    .sorted()
                    .toList();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static boolean isOurs(Path relative) {
        for (Path part : relative) {
            if (Set.of("target", "node_modules", "dist", ".git", "test-results", ".cifuzz-corpus", "__pycache__")
                    .contains(part.toString())) {
                return false;
            }
        }
        // Seed inputs of fuzz tests are bytes, whatever their name says.
        return !relative.toString().contains("Inputs");
    }

    private static String ending(Path file) {
        String name = file.getFileName().toString();
        return name.substring(name.lastIndexOf('.') + 1);
    }

    private static String name(Path file) {
        return ROOT.relativize(file).toString();
    }

    private static List<String> lines(Path file) {
        return read(file).lines().toList();
    }

    private static String read(Path file) {
        try {
            return Files.readString(file);
        } catch (IOException e) {
            throw new UncheckedIOException(name(file) + " is not UTF-8 text", e);
        }
    }

    /** Notes every method that is too long. */
    private static final class MethodLengths extends TreeScanner<Void, Void> {
        private final CompilationUnitTree unit;
        private final SourcePositions positions;
        private final List<String> offences;

        MethodLengths(CompilationUnitTree unit, SourcePositions positions, List<String> offences) {
            this.unit = unit;
            this.positions = positions;
            this.offences = offences;
        }

        @Override
        public Void visitMethod(MethodTree method, Void unused) {
            var map = unit.getLineMap();
            long start = positions.getStartPosition(unit, method);
            long end = positions.getEndPosition(unit, method);
            if (start >= 0 && end > start) {
                long lines = map.getLineNumber(end) - map.getLineNumber(start) + 1;
                if (lines > METHOD_LINES_MAX) {
                    offences.add(unit.getSourceFile().getName() + ": " + method.getName() + " has " + lines + " lines");
                }
            }
            return super.visitMethod(method, null);
        }
    }
}
