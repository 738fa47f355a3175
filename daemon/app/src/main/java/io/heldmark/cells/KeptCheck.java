package io.heldmark.cells;

import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.calibration.QuickCheck;
import io.heldmark.pipeline.CellLog;
import io.heldmark.time.StationClock;

/**
 * A quick check as it is kept with its cell, wherever it was made.
 *
 * @param calibration the calibration that it was made against.
 * @param plan what the cell was loaded with.
 * @param check what was found.
 * @param zeroCounts mean reading of the empty cell.
 * @param loadCounts mean reading under the load.
 */
public record KeptCheck(String calibration, CheckPlan plan, QuickCheck check, double zeroCounts, double loadCounts) {

    /** Returns the entry of the cell's history, dated now. */
    public ObjectNode entry(StationClock clock) {
        ObjectNode entry = JsonNodeFactory.instance.objectNode();
        entry.put(CellLog.AT, StationDate.instant(clock).toString());
        entry.put("calibration", calibration);
        plan.write(entry);
        return entry.put("appliedN", check.appliedN())
                .put("shownN", check.shownN())
                .put("differenceN", check.differenceN())
                .put("standardUncertaintyN", check.standardUncertaintyN())
                .put("limitN", check.limitN())
                .put("holds", check.holds())
                .put("zeroCounts", zeroCounts)
                .put("loadCounts", loadCounts);
    }
}
