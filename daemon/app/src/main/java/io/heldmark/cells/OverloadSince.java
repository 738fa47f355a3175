package io.heldmark.cells;

import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.pipeline.CalibrationVersion;
import io.heldmark.pipeline.CellLog;
import java.util.List;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/** Says whether a cell was overloaded after it was calibrated. On the same day counts as after: the hour is not known. */
public final class OverloadSince {
    private OverloadSince() {}

    /** Returns one sentence about the greatest overload since a calibration; empty where there was none. */
    public static String sentence(CalibrationVersion calibration, List<ObjectNode> overloads) {
        ObjectNode greatest = greatest(calibration.evaluatedOn(), overloads);
        if (greatest == null) {
            return "";
        }
        String at = greatest.path(CellLog.AT).asText();
        return String.format(
                Locale.ROOT,
                "Calibrated before an overload of %s%.0f %% on %s; check the cell, and calibrate it again if it left its limits.",
                greatest.path("atLeast").asBoolean() ? "at least " : "",
                100 * share(greatest),
                at.substring(0, Math.max(0, at.indexOf('T'))));
    }

    private static @Nullable ObjectNode greatest(String calibratedOn, List<ObjectNode> overloads) {
        ObjectNode greatest = null;
        for (ObjectNode one : overloads) {
            boolean after = one.path(CellLog.AT).asText().compareTo(calibratedOn) >= 0;
            if (after && (greatest == null || share(one) > share(greatest))) {
                greatest = one;
            }
        }
        return greatest;
    }

    private static double share(ObjectNode overload) {
        return overload.path("shareOfRated").asDouble();
    }
}
