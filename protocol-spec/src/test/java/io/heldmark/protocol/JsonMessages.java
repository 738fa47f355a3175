package io.heldmark.protocol;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.stream.StreamSupport;

/** Messages in the form of {@code vectors/schema.json}: keeps what a decoder hands on, and encodes what a file lists. */
final class JsonMessages implements MessageHandler {
    final ArrayNode messages = JsonNodeFactory.instance.arrayNode();

    @Override
    public void onSamples(SamplesView s) {
        ObjectNode m = add("samples")
                .put("sequence", s.sequence())
                .put("tick", s.tick())
                .put("status", s.status())
                .put("channelMask", s.channelMask());
        ArrayNode counts = m.putArray("counts");
        for (int sample = 0; sample < s.sampleCount(); sample++) {
            ArrayNode row = counts.addArray();
            for (int position = 0; position < s.channelCount(); position++) {
                row.add(s.counts(sample, position));
            }
        }
    }

    @Override
    public void onDescribe(Describe d) {
        ObjectNode m = add("describe")
                .put("version", d.protocolMajor() + "." + d.protocolMinor())
                .put("tickRateHz", d.tickRateHz())
                .put("sampleRateMilliHz", d.sampleRateMilliHz())
                .put("deviceId", d.deviceId());
        putUnlessDefault(m, "capabilities", d.capabilities());
        putUnlessEmpty(m, "model", d.model());
        putUnlessEmpty(m, "firmware", d.firmware());
        if (!d.supportedRatesMilliHz().isEmpty()) {
            ArrayNode rates = m.putArray("supportedRatesMilliHz");
            d.supportedRatesMilliHz().forEach(rates::add);
        }
        ArrayNode channels = m.putArray("channels");
        d.channels().forEach(c -> putChannel(channels.addObject(), c));
    }

    private static void putChannel(ObjectNode m, Channel c) {
        m.put("index", c.index()).put("adcBits", c.adcBits());
        putUnlessDefault(m, "bandwidthHz", c.bandwidthHz());
        putUnlessDefault(m, "gain", c.gain());
        putUnlessDefault(m, "ratedLoadN", c.ratedLoadN());
        putUnlessEmpty(m, "name", c.name());
        c.calibration().ifPresent(k -> {
            ObjectNode n = m.putObject("calibration")
                    .put("zeroCounts", k.zeroCounts())
                    .put("newtonPerCount", k.newtonPerCount());
            if (!Float.isNaN(k.relativeStandardUncertainty())) {
                n.put("relativeStandardUncertainty", k.relativeStandardUncertainty());
            }
            putUnlessDefault(n, "calibratedOn", k.calibratedOn());
        });
    }

    @Override
    public void onStatus(Status s) {
        ObjectNode m = add("status")
                .put("tick", s.tick())
                .put("adcFaultCount", s.adcFaultCount())
                .put("lostSampleCount", s.lostSampleCount())
                .put("rejectedFrameCount", s.rejectedFrameCount());
        s.batteryPercent().ifPresent(v -> m.put("batteryPercent", v));
        s.temperatureC().ifPresent(v -> m.put("temperatureC", v));
    }

    @Override
    public void onCommand(Command c) {
        ObjectNode m = add("command").put("opcode", c.opcode()).put("token", c.token());
        putUnlessEmpty(m, "arguments", HexFormat.of().formatHex(c.arguments()));
    }

    @Override
    public void onReply(Reply r) {
        ObjectNode m =
                add("reply").put("opcode", r.opcode()).put("token", r.token()).put("result", r.result());
        putUnlessEmpty(m, "data", HexFormat.of().formatHex(r.data()));
    }

    @Override
    public void onPing(int pingId) {
        add("ping").put("pingId", pingId);
    }

    @Override
    public void onPong(int pingId, long receivedTick, long transmittedTick) {
        add("pong").put("pingId", pingId).put("receivedTick", receivedTick).put("transmittedTick", transmittedTick);
    }

    @Override
    public void onUnknown(int type, int length) {
        add("unknown").put("typeCode", type).put("length", length);
    }

    private ObjectNode add(String type) {
        return messages.addObject().put("type", type);
    }

    private static void putUnlessEmpty(ObjectNode m, String key, String value) {
        if (!value.isEmpty()) {
            m.put(key, value);
        }
    }

    private static void putUnlessDefault(ObjectNode m, String key, float value) {
        if (value != 0) {
            m.put(key, value);
        }
    }

    private static void putUnlessDefault(ObjectNode m, String key, int value) {
        if (value != 0) {
            m.put(key, value);
        }
    }

    /** Encodes a message of a vector and returns the number of bytes written. */
    static int encode(JsonNode m, MessageEncoder e, byte[] out, int at) {
        return switch (m.get("type").asText()) {
            case "samples" -> encodeSamples(m, e, out, at);
            case "describe" -> e.describe(describe(m), out, at);
            case "status" -> e.status(status(m), out, at);
            case "command" ->
                e.command(new Command(m.get("opcode").asInt(), m.get("token").asInt(), hex(m, "arguments")), out, at);
            case "reply" ->
                e.reply(
                        new Reply(
                                m.get("opcode").asInt(),
                                m.get("token").asInt(),
                                m.get("result").asInt(),
                                hex(m, "data")),
                        out,
                        at);
            case "ping" -> e.ping(m.get("pingId").asInt(), out, at);
            case "pong" ->
                e.pong(
                        m.get("pingId").asInt(),
                        m.get("receivedTick").asLong(),
                        m.get("transmittedTick").asLong(),
                        out,
                        at);
            default -> throw new IllegalArgumentException(m.toString());
        };
    }

    private static int encodeSamples(JsonNode m, MessageEncoder e, byte[] out, int at) {
        int[] counts = StreamSupport.stream(m.get("counts").spliterator(), false)
                .flatMap(row -> StreamSupport.stream(row.spliterator(), false))
                .mapToInt(JsonNode::asInt)
                .toArray();
        return e.samples(
                m.get("sequence").asInt(),
                m.get("tick").asLong(),
                m.get("status").asInt(),
                m.get("channelMask").asInt(),
                m.get("counts").size(),
                counts,
                0,
                m.get("bytesPerCount").asInt(),
                out,
                at);
    }

    private static Describe describe(JsonNode m) {
        String[] version = m.get("version").asText().split("\\.", -1);
        List<Long> rates = new ArrayList<>();
        m.path("supportedRatesMilliHz").forEach(r -> rates.add(r.asLong()));
        List<Channel> channels = new ArrayList<>();
        m.get("channels").forEach(c -> channels.add(channel(c)));
        return new Describe(
                Integer.parseInt(version[0]),
                Integer.parseInt(version[1]),
                m.path("capabilities").asInt(),
                m.get("tickRateHz").asLong(),
                m.get("sampleRateMilliHz").asLong(),
                m.get("deviceId").asText(),
                m.path("model").asText(),
                m.path("firmware").asText(),
                rates,
                channels);
    }

    private static Channel channel(JsonNode c) {
        Optional<FactoryCalibration> calibration = Optional.ofNullable(c.get("calibration"))
                .map(k -> new FactoryCalibration(
                        k.get("zeroCounts").asInt(),
                        k.get("newtonPerCount").floatValue(),
                        k.has("relativeStandardUncertainty")
                                ? k.get("relativeStandardUncertainty").floatValue()
                                : Float.NaN,
                        k.path("calibratedOn").asInt()));
        return new Channel(
                c.get("index").asInt(),
                c.path("name").asText(),
                c.get("adcBits").asInt(),
                c.path("bandwidthHz").floatValue(),
                c.path("gain").floatValue(),
                c.path("ratedLoadN").floatValue(),
                calibration);
    }

    private static Status status(JsonNode m) {
        return new Status(
                m.get("tick").asLong(),
                m.has("batteryPercent") ? OptionalInt.of(m.get("batteryPercent").asInt()) : OptionalInt.empty(),
                m.has("temperatureC") ? OptionalDouble.of(m.get("temperatureC").asDouble()) : OptionalDouble.empty(),
                m.get("adcFaultCount").asInt(),
                m.get("lostSampleCount").asLong(),
                m.get("rejectedFrameCount").asInt());
    }

    private static byte[] hex(JsonNode m, String key) {
        return HexFormat.of().parseHex(m.path(key).asText());
    }
}
