package io.heldmark.protocol;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import com.networknt.schema.InputFormat;
import com.networknt.schema.Schema;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import io.heldmark.protocol.Vectors.Vector;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.FieldSource;

/**
 * The golden vectors, which an encoder that is independent of this codec made from the specification
 * ({@code vectors/make_vectors.py}), or a person by hand ({@code vectors/hand-*.json}).
 */
class GoldenVectorTest {
    static final List<Vector> ALL = Vectors.all();

    @ParameterizedTest
    @FieldSource("ALL")
    void shouldHandOnTheMessagesAndCountTheRest(Vector v) {
        JsonMessages seen = new JsonMessages();
        StreamDecoder decoder = v.decoder(seen);
        v.chunks().forEach(c -> decoder.accept(c, 0, c.length));
        assertSame(v, seen, decoder);
    }

    @ParameterizedTest
    @FieldSource("ALL")
    void shouldNotCareWhereTheBytesAreCut(Vector v) {
        if (v.isGatt()) {
            return; // There a cut makes another value.
        }
        byte[] bytes = v.bytes();
        for (int piece : new int[] {1, 2, 3, 7, 64}) {
            JsonMessages seen = new JsonMessages();
            StreamDecoder decoder = v.decoder(seen);
            for (int at = 0; at < bytes.length; at += piece) {
                decoder.accept(bytes, at, Math.min(piece, bytes.length - at));
            }
            assertSame(v, seen, decoder);
        }
    }

    @ParameterizedTest
    @FieldSource("ALL")
    void shouldEncodeCanonicalVectorsToTheSameBytes(Vector v) {
        if (!v.json().path("canonical").asBoolean()) {
            return; // Nothing that an encoder writes.
        }
        MessageEncoder encoder = v.encoder();
        byte[] out = new byte[2 * Wire.MAX_MESSAGE_BYTES];
        int at = 0;
        for (JsonNode message : v.json().get("messages")) {
            at += JsonMessages.encode(message, encoder, out, at);
        }
        assertArrayEquals(v.bytes(), Arrays.copyOf(out, at));
    }

    @ParameterizedTest
    @FieldSource("ALL")
    void shouldAccountForEveryByte(Vector v) {
        StreamDecoder decoder = v.decoder(new MessageHandler() {});
        v.chunks().forEach(c -> decoder.accept(c, 0, c.length));
        decoder.reset();
        DecoderCounters c = decoder.counters();
        assertEquals(v.bytes().length, c.bytes);
        assertEquals(c.bytes, c.messageBytes + c.skippedBytes + c.idleBytes);
    }

    @ParameterizedTest
    @FieldSource("ALL")
    void shouldShowTheSameTextAsHex(Vector v) {
        JsonNode text = v.json().get("text");
        assertEquals(v.binding().equals("text"), text != null);
        if (text != null) {
            assertArrayEquals(text.asText().getBytes(StandardCharsets.ISO_8859_1), v.bytes());
        }
    }

    @Test
    void shouldHoldCanonicalVectorsOfEveryMessageInEveryBinding() {
        Map<String, Boolean> found = new TreeMap<>();
        for (Vector v : ALL) {
            if (v.json().path("canonical").asBoolean()) {
                v.json()
                        .get("messages")
                        .forEach(
                                m -> found.put(v.binding() + " " + m.get("type").asText(), true));
            }
        }
        for (String binding : List.of("bytes", "text", "gatt")) {
            for (String type : List.of("samples", "describe", "status", "reply", "command", "ping", "pong")) {
                assertTrue(found.containsKey(binding + " " + type), binding + " " + type);
            }
        }
    }

    @ParameterizedTest
    @FieldSource("io.heldmark.protocol.Vectors#FILES")
    void shouldFollowTheSchema(String file) throws IOException {
        Schema schema = SchemaRegistry.withDefaultDialect(SpecificationVersion.DRAFT_2020_12)
                .getSchema(Files.readString(Vectors.FOLDER.resolve("schema.json")), InputFormat.JSON);
        assertEquals(List.of(), schema.validate(Files.readString(Vectors.FOLDER.resolve(file)), InputFormat.JSON));
    }

    @Test
    void shouldBeWhatTheScriptMakes(@TempDir Path folder) throws Exception {
        assumeTrue(hasPython(), "python3 is not installed, so the vectors cannot be made anew");
        Process process = new ProcessBuilder(
                        "python3", Vectors.FOLDER.resolve("make_vectors.py").toString(), "--out", folder.toString())
                .inheritIO()
                .start();
        assertTrue(process.waitFor(2, TimeUnit.MINUTES));
        assertEquals(0, process.exitValue());
        for (String file : List.of("bytes.json", "text.json", "gatt.json")) {
            assertEquals(Files.readString(Vectors.FOLDER.resolve(file)), Files.readString(folder.resolve(file)), file);
        }
    }

    @Test
    void shouldBeWhereTheSeedsOfTheFuzzTestsComeFrom(@TempDir Path folder) throws Exception {
        assumeTrue(hasPython(), "python3 is not installed, so the seeds cannot be made anew");
        Process process = new ProcessBuilder(
                        "python3", Vectors.FOLDER.resolve("make_seeds.py").toString(), "--out", folder.toString())
                .inheritIO()
                .start();
        assertTrue(process.waitFor(2, TimeUnit.MINUTES));
        assertEquals(0, process.exitValue());
        Path committed = Vectors.FOLDER.resolveSibling("src/test/resources/io");
        assertEquals(contents(committed), contents(folder.resolve("io")));
    }

    private static Map<String, String> contents(Path folder) throws IOException {
        Map<String, String> contents = new TreeMap<>();
        try (Stream<Path> files = Files.walk(folder).filter(Files::isRegularFile)) {
            for (Path file : files.toList()) {
                contents.put(folder.relativize(file).toString(), HexFormat.of().formatHex(Files.readAllBytes(file)));
            }
        }
        return contents;
    }

    private static boolean hasPython() throws InterruptedException {
        try {
            Process process = new ProcessBuilder("python3", "--version").start();
            return process.waitFor() == 0;
        } catch (IOException e) {
            return false;
        }
    }

    private static void assertSame(Vector v, JsonMessages seen, StreamDecoder decoder) {
        JsonNode expected = v.json().get("messages").deepCopy();
        expected.forEach(m -> ((ObjectNode) m).remove("bytesPerCount")); // A decoder does not tell it.
        assertTrue(
                seen.messages.equals(GoldenVectorTest::compareNumbers, expected),
                () -> "expected " + expected + " but saw " + seen.messages);
        assertEquals(counters(v.json().get("counters")), Counters.of(decoder));
    }

    private static Map<String, Long> counters(JsonNode json) {
        Map<String, Long> counters = new TreeMap<>();
        json.properties().forEach(e -> counters.put(e.getKey(), e.getValue().asLong()));
        counters.remove("bytes", 0L);
        return counters;
    }

    /** Numbers are equal where they give the same binary32, or as integers where both are; all else as it is. */
    private static int compareNumbers(JsonNode a, JsonNode b) {
        if (a.isIntegralNumber() && b.isIntegralNumber()) {
            return Long.compare(a.asLong(), b.asLong());
        }
        if (a.isNumber() && b.isNumber()) {
            return Float.compare(a.floatValue(), b.floatValue());
        }
        return a.equals(b) ? 0 : 1;
    }
}
