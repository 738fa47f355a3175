package io.heldmark.cli;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.protocol.Channel;
import io.heldmark.protocol.Command;
import io.heldmark.protocol.DecoderCounters;
import io.heldmark.protocol.Describe;
import io.heldmark.protocol.FactoryCalibration;
import io.heldmark.protocol.MessageHandler;
import io.heldmark.protocol.Reply;
import io.heldmark.protocol.SamplesView;
import io.heldmark.protocol.Status;
import java.io.PrintWriter;
import java.util.HexFormat;
import java.util.Map;

/** Prints messages of one link, as JSON objects or as words. */
final class MessagePrinter implements MessageHandler {
    private final PrintWriter out;
    private final boolean json;
    private final String link;
    private long arrivalNs = -1;

    /**
     * Makes a printer.
     *
     * @param link name of the link; empty where there is only one.
     */
    MessagePrinter(PrintWriter out, boolean json, String link) {
        this.out = out;
        this.json = json;
        this.link = link;
    }

    /** Says when the bytes arrived that come next. */
    void arrivedAt(long stationNs) {
        arrivalNs = stationNs;
    }

    /** Prints what could not be used, at the end. */
    void end(DecoderCounters c) {
        print(object("end")
                .put("bytes", c.bytes)
                .put("messages", c.messages)
                .put("skippedBytes", c.skippedBytes)
                .put("crcFailures", c.crcFailures)
                .put("malformed", c.malformed)
                .put("oversized", c.oversized)
                .put("unknownMessages", c.unknownMessages)
                .put("missingFrames", c.missingFrames)
                .put("duplicates", c.duplicates)
                .put("reordered", c.reordered));
    }

    /** Prints an event of the station out of a recording. */
    static void event(PrintWriter out, boolean json, long atNs, String text) {
        ObjectNode node = JsonLines.object().put("type", "stationEvent").put("atS", atNs / 1e9);
        try {
            node.set("event", JsonLines.MAPPER.readTree(text));
        } catch (JsonProcessingException e) {
            node.put("unreadable", text);
        }
        out.println(json ? node.toString() : words(node));
    }

    @Override
    public void onSamples(SamplesView samples) {
        ObjectNode node = object("samples")
                .put("sequence", samples.sequence())
                .put("tick", samples.tick())
                .put("status", samples.status())
                .put("channelMask", samples.channelMask());
        ArrayNode rows = node.putArray("counts");
        for (int sample = 0; sample < samples.sampleCount(); sample++) {
            ArrayNode row = rows.addArray();
            for (int position = 0; position < samples.channelCount(); position++) {
                row.add(samples.counts(sample, position));
            }
        }
        print(node);
    }

    @Override
    public void onDescribe(Describe d) {
        ObjectNode node = object("describe")
                .put("protocol", d.protocolMajor() + "." + d.protocolMinor())
                .put("capabilities", d.capabilities())
                .put("tickRateHz", d.tickRateHz())
                .put("sampleRateHz", d.sampleRateHz())
                .put("deviceId", d.deviceId());
        putKnown(node, "model", d.model());
        putKnown(node, "firmware", d.firmware());
        ArrayNode rates = node.putArray("supportedRatesHz");
        d.supportedRatesMilliHz().forEach(rate -> rates.add(rate / 1000.0));
        ArrayNode channels = node.putArray("channels");
        d.channels().forEach(channel -> channels.add(channel(channel)));
        print(node);
    }

    @Override
    public void onStatus(Status s) {
        ObjectNode node = object("status").put("tick", s.tick());
        s.batteryPercent().ifPresent(percent -> node.put("batteryPercent", percent));
        s.temperatureC().ifPresent(degrees -> node.put("temperatureC", degrees));
        print(node.put("adcFaults", s.adcFaultCount())
                .put("lostSamples", s.lostSampleCount())
                .put("rejectedFrames", s.rejectedFrameCount()));
    }

    @Override
    public void onCommand(Command c) {
        print(object("command")
                .put("opcode", c.opcode())
                .put("token", c.token())
                .put("arguments", HexFormat.of().formatHex(c.arguments())));
    }

    @Override
    public void onReply(Reply r) {
        print(object("reply")
                .put("opcode", r.opcode())
                .put("token", r.token())
                .put("result", r.result())
                .put("data", HexFormat.of().formatHex(r.data())));
    }

    @Override
    public void onPing(int pingId) {
        print(object("ping").put("pingId", pingId));
    }

    @Override
    public void onPong(int pingId, long receivedTick, long transmittedTick) {
        print(object("pong")
                .put("pingId", pingId)
                .put("receivedTick", receivedTick)
                .put("transmittedTick", transmittedTick));
    }

    @Override
    public void onUnknown(int type, int length) {
        print(object("unknown").put("messageType", type).put("length", length));
    }

    private static ObjectNode channel(Channel c) {
        ObjectNode node = JsonLines.object().put("index", c.index());
        putKnown(node, "name", c.name());
        node.put("adcBits", c.adcBits());
        putKnown(node, "bandwidthHz", c.bandwidthHz());
        putKnown(node, "gain", c.gain());
        putKnown(node, "ratedLoadN", c.ratedLoadN());
        c.calibration().ifPresent(calibration -> node.set("calibration", calibration(calibration)));
        return node;
    }

    private static ObjectNode calibration(FactoryCalibration c) {
        ObjectNode node =
                JsonLines.object().put("zeroCounts", c.zeroCounts()).put("newtonPerCount", c.newtonPerCount());
        if (!Float.isNaN(c.relativeStandardUncertainty())) {
            node.put("relativeStandardUncertainty", c.relativeStandardUncertainty());
        }
        if (c.calibratedOn() != 0) {
            node.put("calibratedOn", c.calibratedOn());
        }
        return node;
    }

    private static void putKnown(ObjectNode node, String name, String text) {
        if (!text.isEmpty()) {
            node.put(name, text);
        }
    }

    private static void putKnown(ObjectNode node, String name, float value) {
        if (value != 0) {
            node.put(name, value);
        }
    }

    private ObjectNode object(String type) {
        ObjectNode node = JsonLines.object().put("type", type);
        if (!link.isEmpty()) {
            node.put("link", link);
        }
        if (arrivalNs >= 0) {
            node.put("arrivalS", arrivalNs / 1e9);
        }
        return node;
    }

    private void print(ObjectNode node) {
        out.println(json ? node.toString() : words(node));
    }

    private static String words(ObjectNode node) {
        StringBuilder text = new StringBuilder(node.path("type").asText());
        for (Map.Entry<String, JsonNode> field : node.properties()) {
            if (!field.getKey().equals("type")) {
                text.append("  ").append(field.getKey()).append('=').append(field.getValue());
            }
        }
        return text.toString();
    }
}
