package io.heldmark.cells;

import com.fasterxml.jackson.core.StreamWriteFeature;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.calibration.CalibrationLimits;
import io.heldmark.calibration.CalibrationResult;
import io.heldmark.calibration.Coefficient;
import io.heldmark.calibration.LoadReference;
import io.heldmark.calibration.LoadResult;
import io.heldmark.calibration.LoadUncertainty;
import io.heldmark.calibration.Percent;
import io.heldmark.calibration.RunResult;

/** A calibration as JSON; {@code docs/command-line.md} names the members. */
public final class CalibrationDocument {
    private static final JsonMapper MAPPER = JsonMapper.builder()
            .enable(StreamWriteFeature.USE_FAST_DOUBLE_WRITER)
            .build();

    private final CalibrationResult result;
    private final CalibrationLimits limits;

    /** Describes a result. */
    public CalibrationDocument(CalibrationResult result, CalibrationLimits limits) {
        this.result = result;
        this.limits = limits;
    }

    /**
     * Returns the document.
     *
     * @param input where the readings came from.
     * @param stationVersion version of the station.
     */
    public ObjectNode json(String input, String stationVersion) {
        ObjectNode json = MAPPER.createObjectNode();
        json.put("schema", "heldmark.calibration/1");
        json.put("input", input);
        json.put("stationVersion", stationVersion);
        json.put("degree", result.request().degree());
        json.put("readings", result.readings());
        json.set("reference", reference(result.request().reference()));
        ArrayNode coefficients = json.putArray("coefficients");
        for (Coefficient c : result.coefficients()) {
            coefficients
                    .addObject()
                    .put("name", c.name())
                    .put("value", c.value())
                    .put("standardError", c.standardError())
                    .put("standardUncertainty", c.standardUncertainty())
                    .put("unit", c.unit());
        }
        ArrayNode covariance = json.putArray("covariance");
        for (double[] row : result.curve().fit().covariance()) {
            ArrayNode into = covariance.addArray();
            for (double element : row) {
                into.add(element);
            }
        }
        json.put("residualSd", result.curve().fit().residualSd());
        json.put("degreesOfFreedom", result.curve().fit().degreesOfFreedom());
        json.put("relativeStandardUncertaintyPercent", 100 * result.relativeU());
        ArrayNode loads = json.putArray("loads");
        result.loads().forEach(load -> loads.add(load(load)));
        ArrayNode runs = json.putArray("runs");
        result.runs().forEach(run -> runs.add(run(run)));
        ObjectNode limitsPercent = json.putObject("limitsPercent");
        limits.percent().forEach(limitsPercent::put);
        ArrayNode beyond = json.putArray("beyondLimits");
        limits.sentences(result).forEach(beyond::add);
        ArrayNode notes = json.putArray("notes");
        result.notes().forEach(notes::add);
        return json;
    }

    private static ObjectNode reference(LoadReference reference) {
        ObjectNode json = MAPPER.createObjectNode();
        json.put("appliedUnit", reference.unit());
        json.put("newtonsPerUnit", reference.newtonsPerUnit());
        if (!Double.isNaN(reference.gravityMS2())) {
            json.put("gravityMS2", reference.gravityMS2());
            json.put("buoyancyPercent", 100 * reference.buoyancyFraction());
        }
        if (!Double.isNaN(reference.loadRelativeU())) {
            json.put("loadUPercent", 100 * reference.loadRelativeU());
        }
        json.put("standardUncertaintyPercent", 100 * reference.relativeU());
        return json;
    }

    private ObjectNode load(LoadResult load) {
        ObjectNode json = MAPPER.createObjectNode();
        json.put("applied", load.loadN() / result.request().reference().newtonsPerUnit());
        json.put("appliedN", load.loadN());
        json.put("readings", load.readings());
        json.put("meanCounts", load.meanCounts());
        json.put("residualN", load.residualN());
        ObjectNode missing = MAPPER.createObjectNode();
        put(json, missing, "repeatabilityPercent", load.repeatability());
        put(json, missing, "reproducibilityPercent", load.reproducibility());
        put(json, missing, "reversibilityPercent", load.reversibility());
        put(json, missing, "interpolationErrorPercent", load.interpolationError());
        put(json, missing, "zeroErrorPercent", load.zeroError());
        if (!missing.isEmpty()) {
            json.set("notComputed", missing);
        }
        LoadUncertainty u = load.uncertainty();
        json.put("standardUncertaintyN", u.standardUncertaintyN());
        json.put("coverageFactor", u.coverageFactor());
        json.put("expandedUncertaintyN", u.expandedN());
        json.putObject("parts")
                .put("curveN", u.curveN())
                .put("readingN", u.readingN())
                .put("mountingN", u.mountingN())
                .put("loadsN", u.loadsN());
        return json;
    }

    private static void put(ObjectNode json, ObjectNode missing, String name, Percent value) {
        if (value.known()) {
            json.put(name, value.value());
        } else {
            missing.put(name, value.notComputed());
        }
    }

    private static ObjectNode run(RunResult run) {
        ObjectNode json = MAPPER.createObjectNode();
        json.put("run", run.run());
        if (!run.mounting().isEmpty()) {
            json.put("mounting", run.mounting());
        }
        putNumber(json, "zeroBeforeCounts", run.zeroBeforeCounts());
        putNumber(json, "zeroAfterCounts", run.zeroAfterCounts());
        putNumber(json, "zeroErrorPercent", run.zeroErrorPercent());
        return json;
    }

    private static void putNumber(ObjectNode json, String name, double value) {
        if (!Double.isNaN(value)) {
            json.put(name, value);
        }
    }
}
