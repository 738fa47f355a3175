package io.heldmark.cells;

import com.fasterxml.jackson.core.StreamWriteFeature;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.calibration.CalibrationException;
import io.heldmark.calibration.CalibrationLimits;
import io.heldmark.calibration.CalibrationSeries;
import io.heldmark.calibration.LoadReference;
import io.heldmark.calibration.SeriesStep;
import io.heldmark.cell.SteadyLevel;
import io.heldmark.pipeline.CalibrationVersion;
import java.time.LocalDate;
import java.util.List;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/** What the viewer is told of calibrations; {@code docs/live-protocol.md} names the members. */
final class GuidedJson {
    private static final JsonMapper MAPPER = JsonMapper.builder()
            .enable(StreamWriteFeature.USE_FAST_DOUBLE_WRITER)
            .build();

    private GuidedJson() {}

    /** Returns that there is none. */
    static ObjectNode none() {
        return MAPPER.createObjectNode().put("state", "none");
    }

    /** Returns where a guided calibration stands. */
    static ObjectNode of(GuidedCalibration guided, int channel, String stationVersion) {
        CalibrationSeries series = guided.series();
        ObjectNode out = MAPPER.createObjectNode();
        out.put("state", series.finished() ? "finished" : "running");
        guided.write(out);
        out.remove("taken");
        out.remove("schema");
        if (channel >= 0) {
            out.put("channel", channel);
        }
        LoadReference reference = guided.plan().reference();
        out.put("newtonsPerUnit", reference.newtonsPerUnit());
        if (!Double.isNaN(reference.gravityMS2())) {
            out.put("gravityMS2", reference.gravityMS2());
        }
        out.put("done", series.done());
        ArrayNode steps = out.putArray("steps");
        for (int i = 0; i < series.steps().size(); i++) {
            step(steps.addObject(), series, i);
        }
        if (series.finished()) {
            result(out, guided, stationVersion);
        }
        return out;
    }

    private static void step(ObjectNode out, CalibrationSeries series, int i) {
        SeriesStep step = series.steps().get(i);
        out.put("kind", step.kind().name().toLowerCase(Locale.ROOT));
        out.put("run", step.run()).put("mounting", step.mounting());
        out.put("increasing", step.increasing()).put("applied", step.applied());
        if (i < series.done()) {
            GuidedCalibration.write(series.taken().get(i), out.putObject("taken"));
            ArrayNode doubts = out.putArray("doubts");
            series.doubts(i).forEach(doubts::add);
        }
    }

    private static void result(ObjectNode out, GuidedCalibration guided, String stationVersion) {
        try {
            ObjectNode result = new CalibrationDocument(guided.result(), CalibrationLimits.DEFAULTS)
                    .json(GuideDesk.INPUT, stationVersion);
            for (String sentences : List.of("notes", "beyondLimits")) {
                ArrayNode said = result.withArray(sentences);
                for (int i = 0; i < said.size(); i++) {
                    said.set(i, GuidedCalibration.ofSteps(said.get(i).asText()));
                }
            }
            out.set("result", result);
        } catch (CalibrationException e) {
            out.put("refused", GuidedCalibration.ofSteps(String.valueOf(e.getMessage())));
        }
    }

    /**
     * Returns the live reading of the step to do.
     *
     * @param level absent while samples are missing.
     * @param shown what it is in the unit of the plan by the earlier readings; NaN where unknown.
     * @param why what is missing before it can be taken; empty where nothing is.
     */
    static ObjectNode level(@Nullable SteadyLevel level, double shown, String why) {
        ObjectNode out = MAPPER.createObjectNode().put("ready", why.isEmpty());
        if (level != null) {
            out.put("meanCounts", level.meanCounts())
                    .put("sdCounts", level.sdCounts())
                    .put("seconds", level.seconds())
                    .put("still", level.still())
                    .put("stillS", level.stillS());
        }
        if (!Double.isNaN(shown)) {
            out.put("shown", shown);
        }
        return why.isEmpty() ? out : out.put("why", why);
    }

    /** Returns the saved versions of a cell. */
    static ObjectNode versions(List<CalibrationVersion> versions, String inUse, LocalDate today) {
        ObjectNode out = MAPPER.createObjectNode();
        if (!inUse.isEmpty()) {
            out.put("inUse", inUse);
        }
        ArrayNode list = out.putArray("versions");
        for (CalibrationVersion one : versions) {
            list.addObject()
                    .put("version", one.version())
                    .put("id", one.bound().id())
                    .put("calibratedBy", one.by())
                    .put("evaluatedOn", one.evaluatedOn())
                    .put("validUntil", one.validUntil().toString())
                    .put("over", one.overOn(today))
                    .put("parabola", one.bound().calibration().bend() != null)
                    .put("inUse", one.bound().id().equals(inUse));
        }
        return out;
    }
}
