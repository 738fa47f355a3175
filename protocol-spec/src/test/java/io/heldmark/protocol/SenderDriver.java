package io.heldmark.protocol;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.File;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;

/** The C sender behind {@code sender/test/driver.c}, compiled with warnings as errors. */
final class SenderDriver {
    private static final Path SENDER = Path.of(System.getProperty("heldmark.root"), "protocol-spec", "sender");

    private final Path folder;
    private final Path program;

    private SenderDriver(Path folder, Path program) {
        this.folder = folder;
        this.program = program;
    }

    static boolean has(String program) {
        return Stream.of(System.getenv("PATH").split(File.pathSeparator))
                .anyMatch(p -> Files.isExecutable(Path.of(p, program)));
    }

    static SenderDriver compile(Path folder, boolean commands) throws Exception {
        assumeTrue(has("gcc"), "gcc is not installed, so the sender cannot be compiled");
        Path program = folder.resolve(commands ? "driver" : "driver-silent");
        call(new ProcessBuilder(
                "gcc",
                "-std=c99",
                "-g",
                "-O1",
                "-Wall",
                "-Wextra",
                "-Wpedantic",
                "-Wconversion",
                "-Wshadow",
                "-Werror",
                "-DGL_WITH_COMMANDS=" + (commands ? 1 : 0),
                SENDER.resolve("test/driver.c").toString(),
                "-o",
                program.toString()));
        return new SenderDriver(folder, program);
    }

    /** Compiles the implementation alone, both bindings and commands, and returns the object file. */
    static Path compileObject(Path folder, String... compiler) throws Exception {
        Path object = folder.resolve(compiler[0] + ".o");
        List<String> command = new ArrayList<>(List.of(compiler));
        command.addAll(List.of("-std=c99", "-Wall", "-Wextra", "-Wpedantic", "-Werror", "-c", "-x", "c"));
        command.addAll(List.of(
                "-DGAUGELINE_SENDER_IMPLEMENTATION",
                SENDER.resolve("gaugeline_sender.h").toString(),
                "-o",
                object.toString()));
        call(new ProcessBuilder(command));
        return object;
    }

    static void compileExample(Path folder, String file) throws Exception {
        call(new ProcessBuilder(
                "avr-gcc",
                "-mmcu=atmega328p",
                "-DF_CPU=16000000UL",
                "-std=gnu99",
                "-Os",
                "-Wall",
                "-Wextra",
                "-Werror",
                SENDER.resolve("examples").resolve(file).toString(),
                "-o",
                folder.resolve("example.elf").toString()));
    }

    /** Runs operations and returns what each wrote, in hex. */
    List<String> run(List<String> operations) throws Exception {
        return runUnder(List.of(), operations);
    }

    List<String> runUnder(List<String> wrapper, List<String> operations) throws Exception {
        Path input = Files.write(folder.resolve("operations"), operations);
        Path output = folder.resolve("output");
        List<String> command = new ArrayList<>(wrapper);
        command.add(program.toString());
        call(new ProcessBuilder(command).redirectInput(input.toFile()).redirectOutput(output.toFile()));
        List<String> lines = Files.readAllLines(output);
        assertEquals(operations.size(), lines.size());
        return lines;
    }

    private static void call(ProcessBuilder builder) throws IOException, InterruptedException {
        if (builder.redirectOutput().equals(ProcessBuilder.Redirect.PIPE)) {
            builder.redirectOutput(ProcessBuilder.Redirect.DISCARD);
        }
        Process process = builder.redirectError(ProcessBuilder.Redirect.INHERIT).start();
        assertTrue(process.waitFor(5, TimeUnit.MINUTES), () -> builder.command() + " did not end");
        assertEquals(0, process.exitValue(), () -> String.join(" ", builder.command()));
    }
}
