package io.heldmark.cells;

import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.calibration.LoadReference;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * What a quick check loads the cell with.
 *
 * @param by who checks; may be empty.
 * @param load the known load in its unit, above zero.
 * @param unit {@code kg}, {@code N}, {@code kgf} or {@code lbf}.
 * @param loadUPercent relative standard uncertainty of the load in per cent.
 * @param latitudeDeg of the place; absent where nobody said.
 * @param heightM of the place above the sea.
 */
public record CheckPlan(
        String by,
        double load,
        String unit,
        double loadUPercent,
        @Nullable Double latitudeDeg,
        double heightM) {
    static final List<String> MEMBERS = List.of("by", "load", "unit", "loadUPercent", "latitudeDeg", "heightM");

    private static final double LOAD_LEAST = 1e-3;
    private static final double LOAD_MOST = 1e5;

    /** Reads the members of a request; refuses what is missing or out of range. */
    static CheckPlan read(ObjectNode body) {
        Members in = new Members(body);
        String unit = in.text("unit", GuidedPlan.TEXT_MOST);
        if (!GuidedPlan.UNITS.contains(unit)) {
            throw Refusal.bad("unit is one of " + String.join(", ", GuidedPlan.UNITS) + ".");
        }
        Double load = in.optional("load", LOAD_LEAST, LOAD_MOST);
        Double loadUPercent = in.optional("loadUPercent", 0, 50);
        if (load == null || loadUPercent == null) {
            throw Refusal.bad("Say what the load is (load) and how well it is known (loadUPercent).");
        }
        Double latitudeDeg = in.optional("latitudeDeg", -90, 90);
        boolean placed = body.has("latitudeDeg") || body.has("heightM");
        if (placed && (!unit.equals("kg") || latitudeDeg == null)) {
            throw Refusal.bad("latitudeDeg, with heightM or without, is for masses (unit kg).");
        }
        double heightM = in.number("heightM", -500, 9000, 0);
        return new CheckPlan(in.text("by", GuidedPlan.TEXT_MOST), load, unit, loadUPercent, latitudeDeg, heightM);
    }

    /** Writes the plan as a request names it. */
    void write(ObjectNode out) {
        out.put("by", by).put("load", load).put("unit", unit).put("loadUPercent", loadUPercent);
        if (latitudeDeg != null) {
            out.put("latitudeDeg", latitudeDeg).put("heightM", heightM);
        }
    }

    /** Returns what the load is. */
    LoadReference reference() {
        double u = loadUPercent / 100;
        if (!unit.equals("kg")) {
            return LoadReference.force(unit, u);
        }
        return latitudeDeg == null
                ? LoadReference.massAnywhere(LoadReference.CONVENTIONAL_KG_M3, u)
                : LoadReference.massAt(latitudeDeg, heightM, LoadReference.CONVENTIONAL_KG_M3, u);
    }

    /** Returns the load in newtons. */
    double loadN() {
        return load * reference().newtonsPerUnit();
    }
}
