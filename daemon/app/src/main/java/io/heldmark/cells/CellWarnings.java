package io.heldmark.cells;

import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.pipeline.CalibrationVersion;
import io.heldmark.pipeline.CellLog;
import io.heldmark.time.StationClock;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/** What deserves a look at a cell before a session. Nothing of it keeps anybody from measuring. */
final class CellWarnings {
    /** A warning: its name for programs and a sentence for people. */
    record Warning(String id, String text) {}

    private CellWarnings() {}

    /**
     * Returns the warnings.
     *
     * @param versions saved calibrations of the cell, the newest first.
     * @param inUse the one in use; absent where none is.
     * @param checks quick checks, the oldest first.
     * @param overloads overloads, the oldest first.
     * @param clock the station's.
     */
    static List<Warning> of(
            List<CalibrationVersion> versions,
            @Nullable CalibrationVersion inUse,
            List<ObjectNode> checks,
            List<ObjectNode> overloads,
            StationClock clock) {
        LocalDate today = StationDate.of(clock);
        ZoneId zone = clock.zone();
        List<Warning> all = new ArrayList<>();
        ObjectNode last = checks.isEmpty() ? null : checks.get(checks.size() - 1);
        boolean sinceCalibrated = last != null
                && (inUse == null
                        || last.path("calibration")
                                .asText()
                                .equals(inUse.bound().id()));
        if (last != null && sinceCalibrated && !last.path("holds").asBoolean()) {
            all.add(new Warning("leftLimits", leftLimits(last, zone)));
        }
        CalibrationVersion over = inUse != null ? inUse : versions.isEmpty() ? null : versions.get(0);
        if (over != null && over.overOn(today)) {
            all.add(new Warning(
                    "calibrationOver",
                    "The calibration " + over.bound().id() + " was valid until " + over.validUntil()
                            + "; calibrate the cell again."));
        }
        if (last == null || !sinceCalibrated || !day(last, zone).equals(today.toString())) {
            all.add(new Warning("notCheckedToday", "No quick check today with the calibration in use."));
        }
        if (inUse != null) {
            String overloaded = OverloadSince.sentence(inUse, overloads, zone);
            if (!overloaded.isEmpty()) {
                all.add(new Warning("overloadedSince", overloaded));
            }
        }
        return all;
    }

    private static String leftLimits(ObjectNode last, ZoneId zone) {
        return String.format(
                Locale.ROOT,
                "At the check of %s the cell showed %.4g N for %.4g N, %.2g N off; its calibration explains %.2g N. Look at the"
                        + " mounting and the mass and check again; if it stays so, calibrate the cell.",
                day(last, zone),
                last.path("shownN").asDouble(),
                last.path("appliedN").asDouble(),
                Math.abs(last.path("differenceN").asDouble()),
                last.path("limitN").asDouble());
    }

    private static String day(ObjectNode entry, ZoneId zone) {
        return StationDate.day(entry.path(CellLog.AT).asText(), zone);
    }
}
