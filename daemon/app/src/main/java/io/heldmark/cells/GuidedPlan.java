package io.heldmark.cells;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.calibration.CalibrationRequest;
import io.heldmark.calibration.LoadReference;
import io.heldmark.calibration.SeriesPlan;
import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * What a guided calibration is to be: by whom, where, with which loads, in which order.
 *
 * @param by who calibrates.
 * @param loadsDescribed which masses or which reference cell; may be empty.
 * @param unit of the loads: {@code kg} for masses, {@code N}, {@code kgf} or {@code lbf} for a reference cell.
 * @param loadUPercent standard uncertainty of the loads, in per cent of each.
 * @param latitudeDeg of the place, for masses; absent where nobody said.
 * @param heightM of the place, in metres.
 * @param series loads and order.
 * @param degree 1 for a straight line, 2 for a parabola.
 * @param stretchS length of the stretch that a reading is the mean of, in seconds.
 * @param waitS how long the cell must have been still before, in seconds.
 * @param validDays days until the next calibration.
 */
record GuidedPlan(
        String by,
        String loadsDescribed,
        String unit,
        double loadUPercent,
        @Nullable Double latitudeDeg,
        double heightM,
        SeriesPlan series,
        int degree,
        double stretchS,
        int waitS,
        int validDays) {
    /** The members that a request may have beside {@code channel}. */
    static final List<String> MEMBERS = List.of(
            "by",
            "loadsDescribed",
            "unit",
            "loadUPercent",
            "latitudeDeg",
            "heightM",
            "loads",
            "down",
            "mountings",
            "runs",
            "preload",
            "degree",
            "stretchS",
            "waitS",
            "validDays");

    static final int TEXT_MOST = 200;
    static final List<String> UNITS = List.of("kg", "N", "kgf", "lbf");

    /** Reads a plan; refuses what is none. */
    static GuidedPlan read(ObjectNode body) {
        Members in = new Members(body);
        String by = in.text("by", TEXT_MOST);
        if (by.isEmpty()) {
            throw Refusal.bad("Say who calibrates (by).");
        }
        String unit = in.text("unit", TEXT_MOST);
        if (!UNITS.contains(unit)) {
            throw Refusal.bad("unit is one of " + String.join(", ", UNITS) + ".");
        }
        Double latitudeDeg = in.optional("latitudeDeg", -90, 90);
        double heightM = in.number("heightM", -500, 9000, 0);
        boolean placed = body.has("latitudeDeg") || body.has("heightM");
        if (placed && !unit.equals("kg")) {
            throw Refusal.bad("latitudeDeg and heightM are for masses (unit kg): a force needs no gravity.");
        }
        if (latitudeDeg == null && body.has("heightM")) {
            throw Refusal.bad("heightM says nothing without latitudeDeg.");
        }
        Double loadUPercent = in.optional("loadUPercent", 0, 50);
        if (loadUPercent == null) {
            throw Refusal.bad("Say how well the loads are known (loadUPercent): no reading can show it.");
        }
        int degree = in.whole("degree", 1, 2, 1);
        GuidedPlan plan = new GuidedPlan(
                by,
                in.text("loadsDescribed", TEXT_MOST),
                unit,
                loadUPercent,
                latitudeDeg,
                heightM,
                series(body, in),
                degree,
                in.number("stretchS", 1, 8, 3),
                in.whole("waitS", 0, 300, 10),
                in.whole("validDays", 1, 3660, 365));
        if (plan.series().loads().size() < degree + 1) {
            throw Refusal.bad("A " + (degree == 1 ? "straight line needs 2" : "parabola needs 3")
                    + " different loads at least beside the empty cell; with fewer nothing shows how well it fits.");
        }
        return plan;
    }

    private static SeriesPlan series(ObjectNode body, Members in) {
        List<Double> loads = new ArrayList<>();
        for (JsonNode load : body.path("loads")) {
            if (!load.isNumber()) {
                throw Refusal.bad("loads is a list of numbers.");
            }
            loads.add(load.doubleValue());
        }
        try {
            return new SeriesPlan(
                    loads,
                    in.flag("down", true),
                    in.whole("mountings", 1, SeriesPlan.MOUNTINGS_MOST, 3),
                    in.whole("runs", 1, SeriesPlan.RUNS_MOST, 1),
                    in.flag("preload", true));
        } catch (IllegalArgumentException e) {
            throw Refusal.bad(String.valueOf(e.getMessage()));
        }
    }

    /** Returns the plan as a request names it. */
    ObjectNode write(ObjectNode out) {
        out.put("by", by)
                .put("loadsDescribed", loadsDescribed)
                .put("unit", unit)
                .put("loadUPercent", loadUPercent);
        if (latitudeDeg != null) {
            out.put("latitudeDeg", latitudeDeg).put("heightM", heightM);
        }
        ArrayNode loads = out.putArray("loads");
        series.loads().forEach(loads::add);
        return out.put("down", series.down())
                .put("mountings", series.mountings())
                .put("runs", series.runs())
                .put("preload", series.preload())
                .put("degree", degree)
                .put("stretchS", stretchS)
                .put("waitS", waitS)
                .put("validDays", validDays);
    }

    /** Returns what the loads are. */
    LoadReference reference() {
        double u = loadUPercent / 100;
        if (!unit.equals("kg")) {
            return LoadReference.force(unit, u);
        }
        return latitudeDeg == null
                ? LoadReference.massAnywhere(LoadReference.CONVENTIONAL_KG_M3, u)
                : LoadReference.massAt(latitudeDeg, heightM, LoadReference.CONVENTIONAL_KG_M3, u);
    }

    /** Returns how the readings are evaluated: each run above its own zero, as people are measured above a zero of their own. */
    CalibrationRequest request() {
        return new CalibrationRequest(degree, true, reference(), Double.NaN, true);
    }
}
