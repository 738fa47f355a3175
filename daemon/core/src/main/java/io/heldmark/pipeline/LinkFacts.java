package io.heldmark.pipeline;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.link.Link;
import io.heldmark.link.LinkAddress;
import io.heldmark.model.Bend;
import io.heldmark.model.CellCalibration;
import io.heldmark.model.Limb;
import io.heldmark.record.LinkHeader;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/** What the station was told of a link, as a recording holds it: limbs and calibrations of its channels. */
final class LinkFacts {
    private static final JsonMapper MAPPER = JsonMapper.builder().build();

    private LinkFacts() {}

    /** Returns a link as the header of a recording names it. */
    static LinkHeader write(LinkSetup setup) {
        ObjectNode facts = MAPPER.createObjectNode();
        ArrayNode channels = facts.putArray("channels");
        for (ChannelSetup channel : setup.channels()) {
            ObjectNode o = channels.addObject()
                    .put("deviceChannel", channel.deviceChannel())
                    .put("limb", channel.limb().name());
            StationCalibration calibration = channel.calibration();
            if (calibration != null) {
                put(o, calibration);
            }
        }
        if (!setup.calibrations().isEmpty()) {
            ArrayNode bound = facts.putArray("calibrations");
            setup.calibrations().forEach(one -> put(bound.addObject(), one));
        }
        return new LinkHeader(setup.name(), setup.binding().name(), facts.toString());
    }

    /** Returns the setup that a recording names; what it does not say is not known. */
    static LinkSetup read(LinkHeader header) {
        List<ChannelSetup> channels = new ArrayList<>();
        List<BoundCalibration> bound = new ArrayList<>();
        try {
            JsonNode facts = MAPPER.readTree(header.factsJson());
            for (JsonNode o : facts.path("calibrations")) {
                BoundCalibration one = bound(o);
                if (one != null) {
                    bound.add(one);
                }
            }
            for (JsonNode o : facts.path("channels")) {
                channels.add(new ChannelSetup(
                        o.path("deviceChannel").asInt(ChannelSetup.FIRST),
                        limb(o.path("limb").asText()),
                        calibration(o)));
            }
        } catch (JsonProcessingException e) {
            throw new IllegalStateException("the header has been checked: " + header, e);
        }
        return new LinkSetup(LinkAddress.parse(header.name()), binding(header.binding()), channels, bound);
    }

    /** Returns the calibration of a device's channel that an object holds; null where it holds none. */
    static @Nullable BoundCalibration bound(JsonNode o) {
        StationCalibration calibration = calibration(o);
        return calibration == null
                ? null
                : new BoundCalibration(
                        o.path("id").asText(),
                        o.path("deviceId").asText(),
                        o.path("deviceChannel").asInt(),
                        calibration,
                        false);
    }

    /** Writes a calibration and the device's channel that it is of. */
    static void put(ObjectNode o, BoundCalibration bound) {
        o.put("id", bound.id()).put("deviceId", bound.deviceId()).put("deviceChannel", bound.deviceChannel());
        put(o, bound.calibration());
    }

    /** Writes a calibration into an object that already says whose it is. */
    static void put(ObjectNode o, StationCalibration calibration) {
        o.put("zeroCounts", calibration.zeroCounts()).put("newtonPerCount", calibration.newtonPerCount());
        if (!Double.isNaN(calibration.relativeU())) {
            o.put("relativeU", calibration.relativeU());
        }
        Bend bend = calibration.bend();
        if (bend != null) {
            o.put("bendPerN", bend.perN()).put("bendFromN", bend.fromN()).put("bendToN", bend.toN());
        }
        put(o, calibration.cell());
    }

    private static void put(ObjectNode o, CellCalibration cell) {
        if (cell.calibratedToN() > 0) {
            o.put("calibratedToN", cell.calibratedToN());
        }
        if (cell.driftLimitNPerHour() >= 0) {
            o.put("driftLimitNPerHour", cell.driftLimitNPerHour());
        }
        if (cell.referenceRelativeU() > 0) {
            o.put("referenceRelativeU", cell.referenceRelativeU());
        }
        if (!cell.reference().isEmpty()) {
            o.put("reference", cell.reference());
        }
        if (!cell.covariance().isEmpty()) {
            ArrayNode covariance = o.putArray("covariance");
            cell.covariance().forEach(covariance::add);
        }
    }

    private static CellCalibration cell(JsonNode o) {
        List<Double> covariance = new ArrayList<>();
        o.path("covariance").forEach(v -> covariance.add(v.asDouble()));
        return new CellCalibration(
                o.path("calibratedToN").asDouble(Double.NaN),
                o.path("driftLimitNPerHour").asDouble(Double.NaN),
                o.path("referenceRelativeU").asDouble(0),
                o.path("reference").asText(""),
                covariance);
    }

    private static Limb limb(String name) {
        return switch (name.toUpperCase(Locale.ROOT)) {
            case "LEFT" -> Limb.LEFT;
            case "RIGHT" -> Limb.RIGHT;
            default -> Limb.NONE;
        };
    }

    private static Link.Binding binding(String name) {
        for (Link.Binding binding : Link.Binding.values()) {
            if (binding.name().equalsIgnoreCase(name)) {
                return binding;
            }
        }
        return Link.Binding.AUTO;
    }

    /** Returns the calibration that an object holds; null where it holds none. */
    static @Nullable StationCalibration calibration(JsonNode o) {
        return o.has("newtonPerCount")
                ? new StationCalibration(
                        o.path("zeroCounts").asDouble(),
                        o.path("newtonPerCount").asDouble(),
                        o.path("relativeU").asDouble(Double.NaN),
                        cell(o),
                        bend(o))
                : null;
    }

    private static @Nullable Bend bend(JsonNode o) {
        return o.has("bendPerN")
                ? new Bend(
                        o.path("bendPerN").asDouble(),
                        o.path("bendFromN").asDouble(),
                        o.path("bendToN").asDouble())
                : null;
    }
}
