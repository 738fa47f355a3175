package io.heldmark.house;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;

/** The launcher in a folder of its own, with stand-ins for Java, Maven and Node that say how they were called. */
@EnabledOnOs(OS.LINUX)
class LauncherTest {
    @TempDir
    Path root;

    @BeforeEach
    void place() throws IOException {
        Path source = Path.of(System.getProperty("heldmark.root"), "heldmark");
        script("heldmark", Files.readString(source));
        script(
                "bin/java",
                "#!/bin/sh\nif [ \"$1\" = -version ]; then echo 'openjdk version \"17.0.1\"' >&2; else echo \"$@\"; fi\n");
        script("bin/javac", "#!/bin/sh\n");
        script("bin/node", "#!/bin/sh\n");
        script("bin/npm", "#!/bin/sh\n");
        script("bin/mvn", "#!/bin/sh\necho built >>'" + root + "/builds'\nsleep 1\n");
        Path dist = Files.createDirectories(root.resolve("target/dist"));
        Files.createFile(dist.resolve("heldmark-17.jsa"));
        Files.createFile(dist.resolve("STAMP"));
        Files.createFile(root.resolve("pom.xml"));
        Files.setLastModifiedTime(root.resolve("pom.xml"), FileTime.fromMillis(0));
    }

    private void script(String name, String text) throws IOException {
        Path file = root.resolve(name);
        Files.createDirectories(file.getParent());
        Files.writeString(file, text);
        assertTrue(file.toFile().setExecutable(true));
    }

    private Process start(String... arguments) throws IOException {
        List<String> command = new ArrayList<>(List.of(root.resolve("heldmark").toString()));
        command.addAll(List.of(arguments));
        ProcessBuilder builder = new ProcessBuilder(command).redirectErrorStream(true);
        Map<String, String> environment = builder.environment();
        environment.put("PATH", root.resolve("bin") + ":" + environment.get("PATH"));
        environment.remove("JAVA_HOME");
        environment.remove("HELDMARK_JAVA_OPTIONS");
        return builder.start();
    }

    private static String said(Process process) throws Exception {
        String text = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
        assertTrue(process.waitFor(30, TimeUnit.SECONDS));
        assertEquals(0, process.exitValue(), text);
        return text;
    }

    @Test
    void shouldLeaveTheOptimisingCompilerOutWhereItDoesNotPay() throws Exception {
        Path small = Files.writeString(root.resolve("small.csv"), "time_s,left\n");
        for (String[] line :
                new String[][] {{"serve", "--port", "0"}, {"demo"}, {"record"}, {"analyse", small.toString()}}) {
            String said = said(start(line));
            assertTrue(said.contains(" -XX:TieredStopAtLevel=1 "), said);
            assertTrue(said.strip().endsWith("io.heldmark.cli.Main " + String.join(" ", line)), said);
        }
        for (String name : List.of("replay", "simulate", "--help")) {
            String said = said(start(name));
            assertFalse(said.contains("TieredStopAtLevel"), said);
        }
        assertFalse(Files.exists(root.resolve("builds")), "nothing was out of date");
    }

    @Test
    void shouldBuildOnceWhereTwoAreStartedTogether() throws Exception {
        Files.delete(root.resolve("target/dist/STAMP"));
        Process first = start("ports");
        Process second = start("recordings");
        for (Process each : List.of(first, second)) {
            String said = said(each);
            assertTrue(said.contains("io.heldmark.cli.Main"), said);
        }
        assertEquals(List.of("built"), Files.readAllLines(root.resolve("builds")));
    }
}
