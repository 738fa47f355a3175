package io.heldmark.protocol;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import com.fasterxml.jackson.databind.JsonNode;
import io.heldmark.protocol.Vectors.Vector;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The reference sender in C against the golden vectors and this codec; it shares no code with either. */
class SenderTest {
    private static final String DEVICE = "device 0 0 61 - - 1000000 80000/320000 ";
    private static final List<String> SMALL_DEVICE = List.of(DEVICE, "channel 24 0 0 0 -", "open 3 1");

    @TempDir
    Path folder;

    @Test
    void shouldWriteCanonicalVectorsByteForByte() throws Exception {
        SenderDriver full = SenderDriver.compile(folder, true);
        SenderDriver silent = SenderDriver.compile(folder, false);
        int written = 0;
        for (Vector v : Vectors.all()) {
            if (v.isGatt() || !v.json().path("canonical").asBoolean()) {
                continue;
            }
            SenderScript script = SenderScript.of(v);
            if (script == null) {
                continue; // For stations, or a mask with holes, which this sender has no use for.
            }
            List<String> lines = (script.takesCommands() ? full : silent).run(script.operations());
            assertEquals(HexFormat.of().formatHex(v.bytes()), String.join("", lines), v.name());
            written++;
        }
        assertTrue(written >= 28, written + " vectors");
    }

    @Test
    void shouldAnswerEveryCommandAndPingOfTheVectorsAndNothingElse() throws Exception {
        List<Vector> vectors = Vectors.all().stream().filter(v -> !v.isGatt()).toList();
        List<String> operations = new ArrayList<>();
        for (Vector v : vectors) {
            operations.add(v.binding().equals("text") ? DEVICE.replace("device 0", "device 1") : DEVICE);
            operations.addAll(SMALL_DEVICE.subList(1, 3));
            operations.add("receive " + HexFormat.of().formatHex(v.bytes()));
            operations.add("rejected");
        }
        List<String> lines = SenderDriver.compile(folder, true).run(operations);
        for (int i = 0; i < vectors.size(); i++) {
            Vector v = vectors.get(i);
            assertEquals(asked(v), answered(v, lines.get(5 * i + 3)), v.name());
            JsonNode counters = v.json().get("counters");
            int unusable = counters.path("crcFailures").asInt()
                    + counters.path("oversized").asInt();
            int rejected = Integer.parseInt(lines.get(5 * i + 4));
            assertTrue(rejected >= unusable, v.name() + ": frames rejected " + rejected);
        }
    }

    private static List<String> asked(Vector v) {
        List<String> asked = new ArrayList<>();
        for (JsonNode m : v.json().get("messages")) {
            if (m.get("type").asText().equals("command")) {
                asked.add("reply " + m.get("opcode") + " " + m.get("token"));
            } else if (m.get("type").asText().equals("ping")) {
                asked.add("pong " + m.get("pingId"));
            }
        }
        return asked;
    }

    private static List<String> answered(Vector v, String hex) {
        List<String> answered = new ArrayList<>();
        StreamDecoder decoder = v.decoder(new MessageHandler() {
            @Override
            public void onReply(Reply r) {
                answered.add("reply " + r.opcode() + " " + r.token());
            }

            @Override
            public void onPong(int pingId, long receivedTick, long transmittedTick) {
                answered.add("pong " + pingId);
            }
        });
        byte[] bytes = HexFormat.of().parseHex(hex);
        decoder.accept(bytes, 0, bytes.length);
        DecoderCounters c = decoder.counters();
        assertEquals(c.bytes, c.messageBytes, v.name() + ": every byte that it wrote belongs to a message");
        return answered;
    }

    @Test
    void shouldRefuseWhatTheSpecificationRefuses() throws Exception {
        SenderDriver driver = SenderDriver.compile(folder, true);
        List<String> operations = new ArrayList<>(SMALL_DEVICE);
        String calibration = "00" + "00000000" + "0000803f" + "0000c07f"; // channel 0, zero 0, slope 1, u NaN
        List<Command> commands = List.of(
                command(9, ""),
                command(4, "00000000"),
                command(4, "803801"),
                command(6, "00"),
                command(6, "01"),
                command(7, calibration + "00000000"),
                command(7, calibration + "01000000"),
                command(7, calibration + "bf0a3101"), // 19991231: the driver's switch is off
                command(7, calibration.replace("0000803f", "00000080") + "00000000"),
                command(6, "00"),
                command(4, "00e20400"));
        byte[] out = new byte[Wire.MAX_MESSAGE_BYTES];
        for (Command c : commands) {
            int n = new ByteStreamEncoder().command(c, out, 0);
            operations.add("receive " + HexFormat.of().formatHex(out, 0, n));
        }
        String written = String.join("", driver.run(operations).subList(3, 3 + commands.size()));
        List<Integer> results = new ArrayList<>();
        byte[] bytes = HexFormat.of().parseHex(written);
        new ByteStreamDecoder(new MessageHandler() {
                    @Override
                    public void onReply(Reply r) {
                        results.add(r.result());
                    }
                })
                .accept(bytes, 0, bytes.length);
        assertEquals(List.of(1, 2, 2, 4, 2, 0, 2, 3, 2, 0, 0), results);
    }

    private static Command command(int opcode, String arguments) {
        return new Command(opcode, 7, HexFormat.of().parseHex(arguments));
    }

    /** Random bit patterns, so that all exponents come: what it writes reads back as the same binary32. */
    @Test
    void shouldWriteNumbersThatReadBack() throws Exception {
        SenderDriver driver = SenderDriver.compile(folder, false);
        Random random = new Random(20);
        List<Float> slopes =
                new ArrayList<>(List.of(Float.MIN_VALUE, Float.MAX_VALUE, Float.MIN_NORMAL, -1f, 0.1f, 1e9f, 8388608f));
        while (slopes.size() < 4000) {
            float slope = Float.intBitsToFloat(random.nextInt());
            if (Float.isFinite(slope) && slope != 0) {
                slopes.add(slope);
            }
        }
        List<String> operations = new ArrayList<>();
        for (float slope : slopes) {
            operations.add("device 1 1 61 - - 1000000 80000");
            operations.add("channel 24 0 0 0 -");
            operations.add("calibration 0 -5 " + Integer.toHexString(Float.floatToRawIntBits(slope)) + " 7fc00000 0");
            operations.add("open 3 1");
            operations.add("describe");
        }
        List<String> lines = driver.run(operations);
        int digits = 0;
        for (int i = 0; i < slopes.size(); i++) {
            byte[] text = HexFormat.of().parseHex(lines.get(5 * i + 4));
            List<Describe> described = new ArrayList<>();
            new TextDecoder(new MessageHandler() {
                        @Override
                        public void onDescribe(Describe d) {
                            described.add(d);
                        }
                    })
                    .accept(text, 0, text.length);
            String wrote = new String(text, StandardCharsets.US_ASCII);
            assertEquals(1, described.size(), wrote);
            float read = described
                    .get(0)
                    .channels()
                    .get(0)
                    .calibration()
                    .orElseThrow()
                    .newtonPerCount();
            assertEquals(slopes.get(i), read, wrote);
            digits = Math.max(digits, wrote.length());
        }
        assertTrue(digits < 200);
    }

    /** Uninitialised memory, writes past the end, leaks. */
    @Test
    void shouldBeCleanUnderValgrind() throws Exception {
        assumeTrue(SenderDriver.has("valgrind"), "valgrind is not installed");
        SenderDriver driver = SenderDriver.compile(folder, true);
        List<String> operations = new ArrayList<>();
        Random random = new Random(21);
        for (Vector v : Vectors.all()) {
            if (v.isGatt()) {
                continue;
            }
            SenderScript script = SenderScript.of(v);
            if (script != null) {
                operations.addAll(script.operations());
            } else {
                operations.addAll(SMALL_DEVICE);
            }
            operations.add("receive " + HexFormat.of().formatHex(v.bytes()));
        }
        byte[] noise = new byte[4000];
        random.nextBytes(noise);
        operations.add("receive " + HexFormat.of().formatHex(noise));
        driver.runUnder(List.of("valgrind", "-q", "--error-exitcode=9", "--leak-check=full"), operations);
    }

    /** The header compiles for an 8-bit board and in its smallest forms; so do the examples. */
    @Test
    void shouldCompileForSmallBoards() throws Exception {
        if (SenderDriver.has("avr-gcc")) {
            SenderDriver.compileObject(folder, "avr-gcc", "-mmcu=atmega328p", "-Os");
            SenderDriver.compileExample(folder, "bridge_two_wire.c");
            SenderDriver.compileExample(folder, "spi_24_bit.c");
        }
        SenderDriver.compileObject(folder, "gcc", "-Os", "-DGL_WITH_TEXT=0", "-DGL_WITH_COMMANDS=0");
        SenderDriver.compileObject(folder, "gcc", "-Os", "-DGL_WITH_BYTES=0", "-DGL_WITH_COMMANDS=0");
        Path object = SenderDriver.compileObject(folder, "gcc", "-Os");
        assertTrue(Files.size(object) > 0);
    }
}
