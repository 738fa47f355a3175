package io.heldmark.pipeline;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.StreamWriteFeature;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.config.ConfigException;
import io.heldmark.link.LinkState;
import io.heldmark.model.Boundaries;
import io.heldmark.model.SaidConditions;
import io.heldmark.model.Target;
import io.heldmark.model.ZeroReference;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/**
 * Station events as the JSON of a recording. The table of the forms stands in {@code docs/architecture.md}.
 *
 * <p>Reading is lenient towards other versions: an event that is not known is left out, a known one that lacks a member is
 * not usable and left out as well; the reader counts both.
 */
final class StationEventJson {
    private static final JsonMapper MAPPER = JsonMapper.builder(JsonFactory.builder()
                    .enable(StreamWriteFeature.USE_FAST_DOUBLE_WRITER)
                    .build())
            .build();
    private static final String CLOCK = "{\"event\":\"clock\"}";

    private StationEventJson() {}

    /** Returns the JSON of an event; absent for bytes sent, which a recording holds as they are. */
    static @Nullable String write(StationEvent event) {
        if (event instanceof StationEvent.ClockTick) {
            return CLOCK;
        }
        ObjectNode o = MAPPER.createObjectNode();
        if (event instanceof StationEvent.LinkChanged e) {
            o.put("event", "linkState").put("link", e.link());
            o.put("state", e.state().name()).put("reason", e.reason());
        } else if (event instanceof StationEvent.ZeroAsked e) {
            ArrayNode channels = o.put("event", "zero").putArray("channels");
            e.channels().forEach(channels::add);
        } else if (event instanceof StationEvent.PingSent e) {
            o.put("event", "pingSent").put("link", e.link()).put("pingId", e.pingId());
        } else if (event instanceof StationEvent.TapAsked e) {
            ArrayNode channels = o.put("event", "tap").putArray("channels");
            e.channels().forEach(channels::add);
            o.put("forget", e.forget());
        } else if (event instanceof StationEvent.Marked e) {
            o.put("event", "mark").put("text", e.text());
        } else if (event instanceof StationEvent.TargetSet e) {
            put(o.put("event", "target"), e.target());
        } else if (event instanceof StationEvent.TrialsSaid e) {
            ConditionsJson.put(o.put("event", "trials"), e.said());
        } else if (event instanceof StationEvent.BoundaryChanged e) {
            put(o.put("event", "boundary"), e.change());
        } else if (event instanceof StationEvent.CalibrationChosen e) {
            LinkFacts.put(o.put("event", "calibration"), e.calibration());
        } else if (event instanceof StationEvent.BytesLost e) {
            o.put("event", "bytesLost").put("link", e.link()).put("bytes", e.bytes());
        } else if (event instanceof StationEvent.Resumed e) {
            put(o.put("event", "resume"), e.point());
        } else {
            return null;
        }
        return o.toString();
    }

    private static void put(ObjectNode o, @Nullable Target target) {
        if (target != null) {
            o.put("forceN", target.forceN()).put("tolerancePercent", target.tolerancePercent());
        }
    }

    private static void put(ObjectNode o, BoundaryChange change) {
        o.put("channel", change.channel()).put("automaticOnsetNs", change.automaticOnsetNs());
        o.put("change", change.kind().name().toLowerCase(Locale.ROOT));
        Boundaries to = change.to();
        if (to != null) {
            o.put("onsetNs", to.onsetNs())
                    .put("releaseStartNs", to.releaseStartNs())
                    .put("offsetNs", to.offsetNs());
        }
    }

    private static void put(ObjectNode o, ResumePoint point) {
        ArrayNode links = o.putArray("links");
        for (ResumePoint.LinkPoint l : point.links()) {
            links.addObject()
                    .put("link", l.link())
                    .put("state", l.state().name())
                    .put("reason", l.reason())
                    .put("describe", l.describe());
        }
        ArrayNode zeros = o.putArray("zeros");
        for (ResumePoint.ZeroPoint z : point.zeros()) {
            zeros.addObject()
                    .put("channel", z.channel())
                    .put("zeroN", z.zero().levelN())
                    .put("standardUncertaintyN", z.zero().standardUncertaintyN())
                    .put("atNs", z.zero().atNs());
        }
        put(o.putObject("target"), point.target());
        if (!point.said().equals(SaidConditions.NONE)) {
            ConditionsJson.put(o.putObject("trials"), point.said());
        }
        if (!point.calibrations().isEmpty()) {
            ArrayNode calibrations = o.putArray("calibrations");
            point.calibrations().forEach(one -> LinkFacts.put(calibrations.addObject(), one));
        }
    }

    /**
     * Reads an event.
     *
     * @param json the JSON object.
     * @param atNs its station time.
     * @return absent where it is none of ours or not usable.
     */
    static @Nullable StationEvent read(String json, long atNs) {
        try {
            return read(MAPPER.readTree(json), atNs);
        } catch (JsonProcessingException e) {
            return null;
        }
    }

    /** Reads an event from its object. */
    static @Nullable StationEvent read(JsonNode o, long atNs) {
        try {
            return switch (o.path("event").asText()) {
                case "clock" -> new StationEvent.ClockTick(atNs);
                case "linkState" ->
                    new StationEvent.LinkChanged(
                            link(o),
                            LinkState.valueOf(o.path("state").asText()),
                            o.path("reason").asText(),
                            atNs);
                case "zero" -> new StationEvent.ZeroAsked(channels(o), atNs);
                case "tap" ->
                    new StationEvent.TapAsked(channels(o), o.path("forget").asBoolean(), atNs);
                case "pingSent" ->
                    new StationEvent.PingSent(link(o), o.path("pingId").asInt(), atNs);
                case "mark" -> new StationEvent.Marked(o.path("text").asText(), atNs);
                case "target" -> new StationEvent.TargetSet(target(o), atNs);
                case "trials" -> new StationEvent.TrialsSaid(ConditionsJson.read(o, List.of("event")), atNs);
                case "boundary" -> new StationEvent.BoundaryChanged(change(o), atNs);
                case "calibration" -> new StationEvent.CalibrationChosen(calibration(o), atNs);
                case "bytesLost" ->
                    new StationEvent.BytesLost(link(o), o.path("bytes").asLong(), atNs);
                case "resume" -> new StationEvent.Resumed(point(o, atNs), atNs);
                default -> null;
            };
        } catch (IllegalArgumentException | ConfigException notUsable) {
            return null;
        }
    }

    private static int link(JsonNode o) {
        if (!o.path("link").canConvertToInt()) {
            throw new IllegalArgumentException("an event without its link");
        }
        return o.path("link").asInt();
    }

    private static List<Integer> channels(JsonNode o) {
        List<Integer> channels = new ArrayList<>();
        o.path("channels").forEach(c -> channels.add(c.asInt()));
        return channels;
    }

    private static @Nullable Target target(JsonNode o) {
        return o.has("forceN")
                ? new Target(
                        o.path("forceN").asDouble(), o.path("tolerancePercent").asDouble())
                : null;
    }

    private static BoundaryChange change(JsonNode o) {
        BoundaryChange.Kind kind =
                BoundaryChange.Kind.valueOf(o.path("change").asText().toUpperCase(Locale.ROOT));
        Boundaries to = kind == BoundaryChange.Kind.MOVE
                ? new Boundaries(whole(o, "onsetNs"), whole(o, "releaseStartNs"), whole(o, "offsetNs"))
                : null;
        return new BoundaryChange((int) whole(o, "channel"), whole(o, "automaticOnsetNs"), kind, to);
    }

    private static long whole(JsonNode o, String name) {
        if (!o.path(name).isIntegralNumber()) {
            throw new IllegalArgumentException("an event without its " + name);
        }
        return o.path(name).asLong();
    }

    private static ResumePoint point(JsonNode o, long atNs) {
        List<ResumePoint.LinkPoint> links = new ArrayList<>();
        for (JsonNode l : o.path("links")) {
            links.add(new ResumePoint.LinkPoint(
                    link(l),
                    LinkState.valueOf(l.path("state").asText()),
                    l.path("reason").asText(),
                    l.path("describe").asText()));
        }
        List<ResumePoint.ZeroPoint> zeros = new ArrayList<>();
        for (JsonNode z : o.path("zeros")) {
            zeros.add(new ResumePoint.ZeroPoint(
                    z.path("channel").asInt(),
                    ZeroReference.taken(
                            z.path("zeroN").asDouble(),
                            z.path("standardUncertaintyN").asDouble(),
                            z.path("atNs").asLong(atNs))));
        }
        List<BoundCalibration> calibrations = new ArrayList<>();
        o.path("calibrations").forEach(c -> calibrations.add(calibration(c)));
        SaidConditions said = o.has("trials") ? ConditionsJson.read(o.path("trials"), List.of()) : SaidConditions.NONE;
        return new ResumePoint(links, zeros, target(o.path("target")), said, calibrations);
    }

    private static BoundCalibration calibration(JsonNode o) {
        BoundCalibration bound = LinkFacts.bound(o);
        if (bound == null) {
            throw new IllegalArgumentException("an event without its calibration");
        }
        return bound;
    }
}
