package io.heldmark.protocol;

import com.fasterxml.jackson.databind.JsonNode;
import io.heldmark.protocol.Vectors.Vector;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * A vector's messages as operations of {@code sender/test/driver.c}.
 *
 * @param operations one a line.
 * @param takesCommands whether they need the sender that takes commands.
 */
record SenderScript(List<String> operations, boolean takesCommands) {

    /** Returns the operations of a vector; absent where it holds messages that this sender never writes. */
    static @Nullable SenderScript of(Vector v) {
        String open = "device " + (v.binding().equals("text") ? 1 : 0) + " "
                + (v.json().path("checks").asBoolean() ? 1 : 0) + " ";
        List<String> operations = new ArrayList<>();
        boolean commands = false;
        for (JsonNode m : v.json().get("messages")) {
            switch (m.get("type").asText()) {
                case "describe" -> {
                    commands |= m.path("capabilities").asInt() != 0;
                    describe(m, open, operations);
                }
                case "samples" -> {
                    int mask = m.get("channelMask").asInt();
                    if ((mask & (mask + 1)) != 0) {
                        return null;
                    }
                    samples(m, open, operations);
                }
                case "status" -> {
                    small(open, operations);
                    status(m, operations);
                }
                case "reply" -> {
                    if (m.has("data") && m.get("data").asText().length() != 34) {
                        return null;
                    }
                    commands = true;
                    small(open, operations);
                    reply(m, operations);
                }
                case "pong" -> {
                    commands = true;
                    small(open, operations);
                    operations.add("tick " + m.get("transmittedTick"));
                    operations.add("pong " + m.get("pingId") + " " + m.get("receivedTick"));
                }
                default -> {
                    return null;
                }
            }
        }
        return operations.isEmpty() ? null : new SenderScript(operations, commands);
    }

    private static void small(String open, List<String> operations) {
        operations.add(open + "61 - - 1000000 80000");
        operations.add("channel 24 0 0 0 -");
        operations.add("open 3 1");
    }

    private static void describe(JsonNode m, String open, List<String> operations) {
        String rates = m.get("sampleRateMilliHz").asText();
        if (m.has("supportedRatesMilliHz")) {
            List<String> all = new ArrayList<>();
            m.get("supportedRatesMilliHz").forEach(r -> all.add(r.asText()));
            rates = String.join("/", all);
        }
        operations.add(open + hex(m.get("deviceId").asText()) + " "
                + hex(m.path("model").asText()) + " " + hex(m.path("firmware").asText()) + " " + m.get("tickRateHz")
                + " " + rates);
        for (JsonNode c : m.get("channels")) {
            operations.add("channel " + c.get("adcBits") + " " + bits(c, "bandwidthHz") + " " + bits(c, "gain") + " "
                    + bits(c, "ratedLoadN") + " " + hex(c.path("name").asText()));
        }
        for (JsonNode c : m.get("channels")) {
            JsonNode k = c.get("calibration");
            if (k != null) {
                operations.add("calibration " + c.get("index") + " " + k.get("zeroCounts") + " "
                        + bits(k, "newtonPerCount") + " "
                        + (k.has("relativeStandardUncertainty") ? bits(k, "relativeStandardUncertainty") : "7fc00000")
                        + " " + k.path("calibratedOn").asLong());
            }
        }
        operations.add("open 3 1");
        operations.add("rate " + m.get("sampleRateMilliHz"));
        operations.add("describe");
    }

    private static void samples(JsonNode m, String open, List<String> operations) {
        operations.add(open + "61 - - 1000000 80000");
        for (int i = 0; i < m.get("counts").get(0).size(); i++) {
            operations.add("channel 24 0 0 0 -");
        }
        operations.add("open " + m.get("bytesPerCount") + " " + m.get("counts").size());
        StringBuilder line = new StringBuilder("samples ");
        line.append(m.get("sequence"))
                .append(' ')
                .append(m.get("tick"))
                .append(' ')
                .append(m.get("status"));
        m.get("counts").forEach(row -> row.forEach(c -> line.append(' ').append(c)));
        operations.add(line.toString());
    }

    private static void status(JsonNode m, List<String> operations) {
        operations.add("tick " + m.get("tick"));
        long deci =
                m.has("temperatureC") ? Math.round(10 * m.get("temperatureC").asDouble()) : -32768;
        operations.add("health " + m.path("batteryPercent").asInt(255) + " " + deci + " " + m.get("adcFaultCount") + " "
                + m.get("lostSampleCount") + " " + m.get("rejectedFrameCount"));
        operations.add("status");
    }

    private static void reply(JsonNode m, List<String> operations) {
        int channel = 255;
        if (m.has("data")) {
            byte[] data = HexFormat.of().parseHex(m.get("data").asText());
            channel = data[0];
            operations.remove(operations.size() - 1);
            operations.add("calibration " + channel + " " + (int) LittleEndian.u32(data, 1) + " "
                    + Long.toHexString(LittleEndian.u32(data, 5)) + " "
                    + Long.toHexString(LittleEndian.u32(data, 9)) + " " + LittleEndian.u32(data, 13));
            operations.add("open 3 1");
        }
        operations.add("reply " + m.get("opcode") + " " + m.get("token") + " " + m.get("result") + " " + channel);
    }

    private static String bits(JsonNode node, String field) {
        return Integer.toHexString(
                Float.floatToRawIntBits((float) node.path(field).asDouble()));
    }

    private static String hex(String text) {
        return text.isEmpty() ? "-" : HexFormat.of().formatHex(text.getBytes(StandardCharsets.UTF_8));
    }
}
