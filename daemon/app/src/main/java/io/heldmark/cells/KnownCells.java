package io.heldmark.cells;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.config.ConfigException;
import io.heldmark.pipeline.CalibrationStore;
import io.heldmark.pipeline.CalibrationVersion;
import io.heldmark.pipeline.CellLog;
import java.nio.file.Path;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;

/**
 * What a data folder tells of the cells that the station has met: the calibration in use, the last quick check, every overload that
 * is kept. A port does not say which cell hangs on it before a link speaks with it; this is known without.
 */
public final class KnownCells {
    private final List<Known> cells = new ArrayList<>();
    private final List<String> remarks = new ArrayList<>();
    private final ZoneId zone;

    private record Known(
            CellLog.Cell cell,
            @Nullable CalibrationVersion calibration,
            List<ObjectNode> checks,
            List<ObjectNode> overloads) {}

    private KnownCells(ZoneId zone) {
        this.zone = zone;
    }

    /**
     * Reads a data folder, which need not exist.
     *
     * @param zone in which days are counted.
     */
    public static KnownCells read(Path dataDir, ZoneId zone) {
        KnownCells known = new KnownCells(zone);
        CellLog checks = CellLog.checks(dataDir);
        CellLog overloads = CellLog.overloads(dataDir);
        Map<String, CellLog.Cell> named = new TreeMap<>();
        Map<String, CalibrationVersion> calibrated = new TreeMap<>();
        for (CalibrationVersion one : new CalibrationStore(dataDir).inUse(known.remarks)) {
            CellLog.Cell cell =
                    new CellLog.Cell(one.bound().deviceId(), one.bound().deviceChannel());
            named.put(key(cell), cell);
            calibrated.put(key(cell), one);
        }
        checks.cells(known.remarks).forEach(cell -> named.put(key(cell), cell));
        overloads.cells(known.remarks).forEach(cell -> named.put(key(cell), cell));
        named.forEach((key, cell) -> known.cells.add(
                new Known(cell, calibrated.get(key), known.entries(checks, cell), known.entries(overloads, cell))));
        return known;
    }

    /** Returns a sentence for each file that cannot be read. */
    public List<String> remarks() {
        return List.copyOf(remarks);
    }

    /** Returns one object for each cell, in the order of their names. */
    public List<ObjectNode> json() {
        return cells.stream().map(KnownCells::json).toList();
    }

    /** Returns lines for people: each cell, and under it its overloads, the newest first. */
    public List<String> lines() {
        List<String> lines = new ArrayList<>();
        for (Known one : cells) {
            lines.add(one.cell().deviceId() + ", channel " + one.cell().deviceChannel() + ": " + calibration(one) + "; "
                    + lastCheck(one) + "; " + overloads(one));
            for (int i = one.overloads().size() - 1; i >= 0; i--) {
                lines.add("  " + overload(one.overloads().get(i)));
            }
        }
        return lines;
    }

    private List<ObjectNode> entries(CellLog log, CellLog.Cell cell) {
        try {
            return log.entries(cell.deviceId(), cell.deviceChannel());
        } catch (ConfigException e) {
            remarks.add(String.valueOf(e.getMessage()));
            return List.of();
        }
    }

    private static ObjectNode json(Known one) {
        ObjectNode node = JsonNodeFactory.instance.objectNode();
        node.put("deviceId", one.cell().deviceId())
                .put("deviceChannel", one.cell().deviceChannel());
        CalibrationVersion version = one.calibration();
        if (version != null) {
            node.putObject("calibration")
                    .put("id", version.bound().id())
                    .put("evaluatedOn", version.evaluatedOn())
                    .put("validUntil", version.validUntil().toString());
        }
        if (!one.checks().isEmpty()) {
            node.set("lastCheck", one.checks().get(one.checks().size() - 1));
        }
        ArrayNode overloads = node.putArray("overloads");
        one.overloads().forEach(overloads::add);
        return node;
    }

    private static String calibration(Known one) {
        CalibrationVersion version = one.calibration();
        return version == null
                ? "not calibrated here"
                : "calibrated on " + version.evaluatedOn() + " (v" + version.version() + ", valid until "
                        + version.validUntil() + ")";
    }

    private String lastCheck(Known one) {
        if (one.checks().isEmpty()) {
            return "no quick check";
        }
        ObjectNode last = one.checks().get(one.checks().size() - 1);
        String found = last.path("holds").asBoolean() ? "held" : "beyond its limit";
        return "last quick check on " + day(last) + ", " + found;
    }

    private static String overloads(Known one) {
        int n = one.overloads().size();
        return n == 0 ? "no overload seen" : n == 1 ? "1 overload" : n + " overloads";
    }

    private String overload(ObjectNode one) {
        String recording = one.path("recording").asText();
        return String.format(
                Locale.ROOT,
                "%s: %s%.0f N, %.0f %% of the rated load%s",
                day(one),
                one.path("atLeast").asBoolean() ? "at least " : "",
                one.path("peakN").asDouble(),
                100 * one.path("shareOfRated").asDouble(),
                recording.isEmpty() ? "" : ", recording " + recording);
    }

    private String day(ObjectNode entry) {
        return StationDate.day(entry.path(CellLog.AT).asText(), zone);
    }

    private static String key(CellLog.Cell cell) {
        return cell.deviceId() + "/" + cell.deviceChannel();
    }
}
