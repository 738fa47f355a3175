package io.heldmark.cells;

import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.pipeline.CalibrationVersion;
import io.heldmark.pipeline.CellLog;
import java.time.ZoneId;
import java.util.List;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/** Says whether a cell was overloaded after it was calibrated. On the same day counts as after: the hour is not known. */
public final class OverloadSince {
    private OverloadSince() {}

    /**
     * Returns one sentence about the greatest overload since a calibration; empty where there was none.
     *
     * @param zone in which the station counts its days.
     */
    public static String sentence(CalibrationVersion calibration, List<ObjectNode> overloads, ZoneId zone) {
        ObjectNode greatest = greatest(calibration.evaluatedOn(), overloads, zone);
        if (greatest == null) {
            return "";
        }
        return String.format(
                Locale.ROOT,
                "Calibrated before an overload of %s%.0f %% on %s; check the cell, and calibrate it again if it left its limits.",
                greatest.path("atLeast").asBoolean() ? "at least " : "",
                100 * share(greatest),
                day(greatest, zone));
    }

    private static @Nullable ObjectNode greatest(String calibratedOn, List<ObjectNode> overloads, ZoneId zone) {
        ObjectNode greatest = null;
        for (ObjectNode one : overloads) {
            boolean after = day(one, zone).compareTo(calibratedOn) >= 0;
            if (after && (greatest == null || share(one) > share(greatest))) {
                greatest = one;
            }
        }
        return greatest;
    }

    private static String day(ObjectNode overload, ZoneId zone) {
        return StationDate.day(overload.path(CellLog.AT).asText(), zone);
    }

    private static double share(ObjectNode overload) {
        return overload.path("shareOfRated").asDouble();
    }
}
