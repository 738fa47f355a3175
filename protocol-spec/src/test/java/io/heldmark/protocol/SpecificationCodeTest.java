package io.heldmark.protocol;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Random;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The code in the specification, taken out of it, compiled and run. */
class SpecificationCodeTest {
    private static final Path ROOT = Path.of(System.getProperty("heldmark.root"), "protocol-spec");

    @Test
    void shouldStuffAndCheckInCAsTheCodecDoes(@TempDir Path folder) throws Exception {
        assumeTrue(has("gcc"), "gcc is not installed, so the functions cannot be compiled");
        Files.write(folder.resolve("snippet.h"), block("```c"));
        Path program = folder.resolve("snippet");
        Path main = ROOT.resolve("src/test/resources/snippet/main.c");
        run(new ProcessBuilder(
                        "gcc",
                        "-std=c99",
                        "-Wall",
                        "-Wextra",
                        "-Werror",
                        "-I" + folder,
                        main.toString(),
                        "-o",
                        program.toString())
                .inheritIO());
        List<String> frames = new ArrayList<>();
        List<String> expected = new ArrayList<>();
        Random random = new Random(16);
        for (int length = 1; length <= 510; length++) {
            byte[] frame = new byte[length + 2];
            random.nextBytes(frame);
            if (length % 3 != 0) { // Else with hardly a zero.
                frame[random.nextInt(length)] = 0;
            } else {
                for (int i = 0; i < length; i++) {
                    frame[i] |= 1;
                }
            }
            frames.add(HexFormat.of().formatHex(frame, 0, length));
            LittleEndian.put16(frame, length, Crc16.of(frame, 0, length));
            byte[] wire = new byte[600];
            int stuffed = Cobs.encode(frame, frame.length, wire, 0);
            expected.add(HexFormat.of().formatHex(wire, 0, stuffed + 1));
        }
        Path input = folder.resolve("frames");
        Path output = folder.resolve("wire");
        Files.write(input, frames);
        run(new ProcessBuilder(program.toString()).redirectInput(input.toFile()).redirectOutput(output.toFile()));
        assertEquals(expected, Files.readAllLines(output));
    }

    /** The text sender, against a stand-in for the Arduino core, for a minute of its own time. */
    @Test
    void shouldBeATwentyLineConformingSender(@TempDir Path folder) throws Exception {
        assumeTrue(has("g++"), "g++ is not installed, so the sketch cannot be compiled");
        List<String> sketch = block("```cpp");
        assertTrue(sketch.size() <= 20, sketch.size() + " lines");
        byte[] output = compileAndRun(folder, String.join("\n", sketch));

        Ticks ticks = new Ticks();
        TextDecoder decoder = new TextDecoder(ticks);
        decoder.accept(output, 0, output.length);
        DecoderCounters c = decoder.counters();
        assertEquals(c.bytes, c.messageBytes, "every byte belongs to a message");
        assertEquals(0, c.gaps + c.restarts + c.duplicates + c.reordered);
        assertEquals(60.0 * 80, (double) c.sampleFrames, 2);
        assertTrue(ticks.describes >= 6 && ticks.describes <= 60, "every 1 to 10 s");
        assertEquals(12_500, ticks.meanStep(), 5);
    }

    /** Checks that ticks rise over the wrap that the stand-in's clock goes through. */
    private static final class Ticks implements MessageHandler {
        private int describes;
        private long first = -1;
        private long elapsed;
        private long previous;
        private int steps;

        @Override
        public void onDescribe(Describe describe) {
            assertEquals("bench-1", describe.deviceId());
            assertEquals(80.0, describe.sampleRateHz());
            assertEquals(1_000_000, describe.tickRateHz());
            describes++;
        }

        @Override
        public void onSamples(SamplesView samples) {
            if (first < 0) {
                first = samples.tick();
            } else {
                long step = (samples.tick() - previous) & 0xFFFF_FFFFL;
                assertTrue(step > 10_000 && step < 15_000, "step " + step);
                elapsed += step;
                steps++;
            }
            previous = samples.tick();
            assertTrue(samples.counts(0, 0) >= 0 && samples.counts(0, 0) < 1024);
        }

        private double meanStep() {
            return elapsed / (double) steps;
        }
    }

    private static List<String> block(String fence) throws IOException {
        List<String> lines = Files.readAllLines(ROOT.resolve("gaugeline-v1.md"));
        int start = lines.indexOf(fence) + 1;
        return lines.subList(start, start + lines.subList(start, lines.size()).indexOf("```"));
    }

    private static byte[] compileAndRun(Path folder, String sketch) throws Exception {
        Path source = folder.resolve("sketch.cpp");
        Files.writeString(source, "#include \"Arduino.h\"\n" + sketch + "\n");
        Path shim = ROOT.resolve("src/test/resources/arduino");
        Path program = folder.resolve("sketch");
        run(new ProcessBuilder(
                        "g++",
                        "-Wall",
                        "-Werror",
                        "-I" + shim,
                        source.toString(),
                        shim.resolve("Arduino.cpp").toString(),
                        "-o",
                        program.toString())
                .inheritIO());
        Path output = folder.resolve("output");
        run(new ProcessBuilder(program.toString()).redirectOutput(output.toFile()));
        return Files.readAllBytes(output);
    }

    private static void run(ProcessBuilder builder) throws Exception {
        Process process = builder.start();
        assertTrue(process.waitFor(2, TimeUnit.MINUTES));
        assertEquals(0, process.exitValue());
    }

    private static boolean has(String compiler) throws InterruptedException {
        try {
            return new ProcessBuilder(compiler, "--version").start().waitFor() == 0;
        } catch (IOException e) {
            return false;
        }
    }
}
