package io.heldmark.protocol;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.FloatNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.protocol.Vectors.Vector;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.TreeMap;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The Wireshark dissector, run by tshark over the golden vectors: one interface per vector, as links of a recording. */
class DissectorTest {
    private static final Path SCRIPT =
            Path.of(System.getProperty("heldmark.root"), "protocol-spec", "dissector", "gaugeline.lua");

    @TempDir
    Path folder;

    /** What tshark showed of one interface. */
    private static final class Shown {
        private final ArrayNode messages = JsonNodeFactory.instance.arrayNode();
        private int unusable;
    }

    @Test
    void shouldShowTheMessagesOfTheVectorsAndFlagTheRest() throws Exception {
        check(Vectors.all(), Vector::chunks);
    }

    @Test
    void shouldNotCareHowReadsCutTheBytes() throws Exception {
        List<Vector> streams = Vectors.all().stream().filter(v -> !v.isGatt()).toList();
        check(streams, v -> pieces(v.bytes(), 7));
    }

    private static List<byte[]> pieces(byte[] bytes, int size) {
        List<byte[]> pieces = new ArrayList<>();
        for (int at = 0; at < bytes.length; at += size) {
            pieces.add(Arrays.copyOfRange(bytes, at, Math.min(bytes.length, at + size)));
        }
        return pieces;
    }

    /** How the bytes of a vector lie in packets. */
    private interface Cut {
        List<byte[]> of(Vector vector);
    }

    private void check(List<Vector> vectors, Cut cut) throws Exception {
        assumeTrue(SenderDriver.has("tshark"), "tshark is not installed, so the dissector cannot be run");
        Path capture = Files.write(folder.resolve("vectors.pcapng"), capture(vectors, cut));
        List<Shown> shown = dissect(capture, vectors.size());
        int compared = 0;
        for (int i = 0; i < vectors.size(); i++) {
            Vector v = vectors.get(i);
            JsonNode counters = v.json().get("counters");
            if (counters.has("duplicates") || counters.has("reordered")) {
                continue; // A receiver drops those; the dissector shows what was sent.
            }
            ArrayNode expected = JsonNodeFactory.instance.arrayNode();
            v.json().get("messages").forEach(m -> expected.add(plain(m)));
            assertEquals(sorted(expected), sorted(shown.get(i).messages), v.name());
            int unusable = counters.path("crcFailures").asInt()
                    + counters.path("malformed").asInt()
                    + counters.path("oversized").asInt();
            assertEquals(unusable > 0, shown.get(i).unusable > 0, v.name());
            compared++;
        }
        assertTrue(compared > 300, compared + " vectors");
    }

    private static JsonNode plain(JsonNode message) {
        ObjectNode m = message.deepCopy();
        m.remove("bytesPerCount");
        return m;
    }

    /** The same tree with members in order and every fraction as binary32, so that trees compare. */
    private static JsonNode sorted(JsonNode node) {
        if (node.isFloatingPointNumber()) {
            return FloatNode.valueOf((float) node.asDouble());
        }
        if (node.isObject()) {
            TreeMap<String, JsonNode> members = new TreeMap<>();
            node.properties().forEach(e -> members.put(e.getKey(), sorted(e.getValue())));
            ObjectNode out = JsonNodeFactory.instance.objectNode();
            out.setAll(members);
            return out;
        }
        if (node.isArray()) {
            ArrayNode out = JsonNodeFactory.instance.arrayNode();
            node.forEach(e -> out.add(sorted(e)));
            return out;
        }
        return node.isNumber() && node.asDouble() == node.asLong()
                ? JsonNodeFactory.instance.numberNode((float) node.asLong())
                : node;
    }

    private List<Shown> dissect(Path capture, int interfaces) throws Exception {
        Path out = folder.resolve("out");
        Path err = folder.resolve("err");
        ProcessBuilder builder = new ProcessBuilder(
                        "tshark",
                        "-X",
                        "lua_script:" + SCRIPT,
                        "-r",
                        capture.toString(),
                        "-T",
                        "fields",
                        "-E",
                        "aggregator=;",
                        "-e",
                        "frame.interface_id",
                        "-e",
                        "gaugeline.json",
                        "-e",
                        "gaugeline.unusable")
                .redirectOutput(out.toFile())
                .redirectError(err.toFile());
        builder.environment().put("LC_ALL", "C.UTF-8");
        builder.environment().put("HOME", folder.toString());
        Process process = builder.start();
        assertTrue(process.waitFor(120, TimeUnit.SECONDS), "tshark does not end");
        String complaints = Files.readString(err)
                .replaceAll("Running as user .*dangerous\\.", "")
                .strip();
        assertEquals("", complaints);
        List<Shown> shown = new ArrayList<>();
        for (int i = 0; i < interfaces; i++) {
            shown.add(new Shown());
        }
        for (String line : Files.readAllLines(out)) {
            String[] columns = line.split("\t", -1);
            Shown at = shown.get(Integer.parseInt(columns[0]));
            if (!columns[1].isEmpty()) {
                String list = "[" + columns[1].replace("};{", "},{") + "]";
                new ObjectMapper().readTree(list).forEach(at.messages::add);
            }
            at.unusable += columns[2].isEmpty() ? 0 : columns[2].split(";").length;
        }
        return shown;
    }

    private static byte[] capture(List<Vector> vectors, Cut cut) throws IOException {
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        out.write(block(
                0x0A0D0D0A,
                words(16)
                        .putInt(0x1A2B3C4D)
                        .putShort((short) 1)
                        .putShort((short) 0)
                        .putLong(-1)));
        for (Vector v : vectors) {
            byte[] name = ("tcp:invented?binding=" + v.binding()).getBytes(StandardCharsets.US_ASCII);
            ByteBuffer body = words(8 + 4 + (name.length + 3) / 4 * 4 + 4);
            body.putShort((short) 147)
                    .putShort((short) 0)
                    .putInt(0)
                    .putShort((short) 2)
                    .putShort((short) name.length);
            out.write(block(1, body.put(name)));
        }
        for (int i = 0; i < vectors.size(); i++) {
            for (byte[] chunk : cut.of(vectors.get(i))) {
                ByteBuffer body = words(20 + (chunk.length + 3) / 4 * 4);
                body.putInt(i).putInt(0).putInt(i).putInt(chunk.length).putInt(chunk.length);
                out.write(block(6, body.put(chunk)));
            }
        }
        return out.toByteArray();
    }

    private static ByteBuffer words(int bytes) {
        return ByteBuffer.allocate(bytes).order(ByteOrder.LITTLE_ENDIAN);
    }

    private static byte[] block(int kind, ByteBuffer body) {
        byte[] block = new byte[body.capacity() + 12];
        ByteBuffer out = ByteBuffer.wrap(block).order(ByteOrder.LITTLE_ENDIAN);
        out.putInt(kind).putInt(block.length).put(body.clear()).putInt(block.length);
        return block;
    }
}
