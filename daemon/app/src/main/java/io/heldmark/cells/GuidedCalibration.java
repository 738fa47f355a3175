package io.heldmark.cells;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.calibration.Calibration;
import io.heldmark.calibration.CalibrationException;
import io.heldmark.calibration.CalibrationResult;
import io.heldmark.calibration.CalibrationSeries;
import io.heldmark.calibration.TakenReading;
import io.heldmark.model.ChannelInfo;

/**
 * One guided calibration: the cell, the plan, what was taken. Its JSON is the file that outlives the station.
 *
 * <p><b>Threading.</b> One thread.
 */
final class GuidedCalibration {
    /** The schema that the file names. */
    static final String SCHEMA = "heldmark.guidedCalibration/1";

    private final String id;
    private final Cell cell;
    private final GuidedPlan plan;
    private final CalibrationSeries series;
    private String saved = "";

    /**
     * The cell that is calibrated, wherever it is plugged in; by its link where the device says no identity.
     *
     * @param deviceId identity of the device; may be empty.
     * @param deviceChannel channel on the device.
     * @param link link that it was on.
     * @param name its name for people.
     */
    record Cell(String deviceId, int deviceChannel, String link, String name) {
        boolean is(ChannelInfo channel) {
            return channel.deviceChannel() == deviceChannel
                    && (deviceId.isEmpty()
                            ? channel.link().equals(link)
                            : channel.deviceId().equals(deviceId));
        }
    }

    GuidedCalibration(String id, Cell cell, GuidedPlan plan) {
        this.id = id;
        this.cell = cell;
        this.plan = plan;
        series = new CalibrationSeries(plan.series(), plan.unit());
    }

    String id() {
        return id;
    }

    Cell cell() {
        return cell;
    }

    GuidedPlan plan() {
        return plan;
    }

    CalibrationSeries series() {
        return series;
    }

    /** Returns which saved calibration it became; empty before. */
    String saved() {
        return saved;
    }

    void savedAs(String calibration) {
        saved = calibration;
    }

    /**
     * Evaluates the readings.
     *
     * @throws CalibrationException if they give no calibration.
     */
    CalibrationResult result() throws CalibrationException {
        return Calibration.of(series.readings(plan.reference().newtonsPerUnit()), plan.request());
    }

    /** Returns a sentence about lines of a table as one about steps. */
    static String ofSteps(String sentence) {
        return sentence.replaceAll("\\blines? (\\d+)", "step $1")
                .replaceAll("step (\\d+) to (\\d+)", "steps $1 to $2")
                .replaceAll(" \\(--[^)]*\\)", "");
    }

    /** Writes all that must outlive the station. */
    ObjectNode write(ObjectNode out) {
        out.put("schema", SCHEMA).put("id", id);
        out.putObject("cell")
                .put("deviceId", cell.deviceId())
                .put("deviceChannel", cell.deviceChannel())
                .put("link", cell.link())
                .put("name", cell.name());
        plan.write(out.putObject("plan"));
        ArrayNode taken = out.putArray("taken");
        series.taken().forEach(one -> write(one, taken.addObject()));
        return out.put("saved", saved);
    }

    static void write(TakenReading one, ObjectNode out) {
        out.put("meanCounts", one.meanCounts())
                .put("sdCounts", one.sdCounts())
                .put("samples", one.samples())
                .put("seconds", one.seconds())
                .put("applied", one.applied())
                .put("moving", one.moving())
                .put("at", one.at());
    }

    /**
     * Reads what {@link #write} wrote.
     *
     * @throws IllegalArgumentException or {@link Refusal} if it is something else.
     */
    static GuidedCalibration read(JsonNode in) {
        if (!in.path("schema").asText().equals(SCHEMA) || !(in.path("plan") instanceof ObjectNode plan)) {
            throw new IllegalArgumentException("no guided calibration");
        }
        JsonNode cell = in.path("cell");
        GuidedCalibration read = new GuidedCalibration(
                in.path("id").asText(),
                new Cell(
                        cell.path("deviceId").asText(),
                        cell.path("deviceChannel").asInt(),
                        cell.path("link").asText(),
                        cell.path("name").asText()),
                GuidedPlan.read(plan));
        for (JsonNode one : in.path("taken")) {
            read.series.take(new TakenReading(
                    one.path("meanCounts").asDouble(),
                    one.path("sdCounts").asDouble(),
                    one.path("samples").asInt(),
                    one.path("seconds").asDouble(),
                    one.path("applied").asDouble(),
                    one.path("moving").asBoolean(),
                    one.path("at").asText()));
        }
        read.saved = in.path("saved").asText();
        return read;
    }
}
