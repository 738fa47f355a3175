package io.heldmark.cells;

import com.fasterxml.jackson.core.StreamWriteFeature;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.calibration.QuickCheck;
import io.heldmark.cell.SteadyLevel;
import io.heldmark.config.ConfigException;
import io.heldmark.model.ChannelInfo;
import io.heldmark.pipeline.CalibrationStore;
import io.heldmark.pipeline.CalibrationVersion;
import io.heldmark.pipeline.CellLog;
import io.heldmark.time.StationClock;
import java.io.IOException;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/**
 * Quick checks before a session: the empty cell, then a known load, compared with the calibration in use; and what else deserves a
 * look at a cell. Every finished check is kept with the cell, dated; one that is on its way is not: the empty cell's reading is
 * worth nothing after the time that a restart takes.
 *
 * <p>A device that tells no identity is known by its link.
 *
 * <p><b>Errors.</b> {@link Refusal} with one sentence for people; the state then is as it was.
 *
 * <p><b>Threading.</b> Any thread; one request at a time.
 */
public final class CheckDesk {
    private static final double STRETCH_S = 3;
    private static final int STILL_S = 3;
    private static final int SHOWN_MOST = 20;
    private static final double NOISE = 6;
    private static final JsonMapper MAPPER = JsonMapper.builder()
            .enable(StreamWriteFeature.USE_FAST_DOUBLE_WRITER)
            .build();

    private final CellStation station;
    private final StationClock clock;
    private final CalibrationStore calibrations;
    private final CellLog checks;
    private final CellLog overloads;
    private final Map<String, Running> running = new HashMap<>();

    /** A check on its way. */
    private record Running(CheckPlan plan, @Nullable SteadyLevel zero) {
        String next() {
            return zero == null ? "zero" : "load";
        }
    }

    /** Makes the desk of a station; reads nothing yet. */
    public CheckDesk(CellStation station, StationClock clock) {
        this.station = station;
        this.clock = clock;
        calibrations = new CalibrationStore(station.dataDir());
        checks = CellLog.checks(station.dataDir());
        overloads = CellLog.overloads(station.dataDir());
    }

    /** Returns the members that a plan may have. */
    public static List<String> planMembers() {
        return CheckPlan.MEMBERS;
    }

    /** Returns warnings, history and the check on its way of the cell behind a channel. */
    public synchronized ObjectNode state(int channel) {
        ChannelInfo cell = channel(channel);
        ObjectNode out = MAPPER.createObjectNode();
        List<ObjectNode> checked = entries(checks, cell);
        List<ObjectNode> overloaded = entries(overloads, cell);
        ArrayNode warnings = out.putArray("warnings");
        if (station.replayState() == null && !cell.link().startsWith("virtual:")) {
            List<CalibrationVersion> versions = versions(cell);
            for (CellWarnings.Warning one :
                    CellWarnings.of(versions, inUse(cell, versions), checked, overloaded, clock)) {
                warnings.addObject().put("id", one.id()).put("text", one.text());
            }
        }
        newestFirst(out.putArray("checks"), checked);
        newestFirst(out.putArray("overloads"), overloaded);
        Running now = running.get(key(cell));
        if (now != null) {
            ObjectNode shown = out.putObject("running").put("next", now.next());
            now.plan().write(shown);
            shown.put("appliedN", now.plan().loadN());
            SteadyLevel level = level(cell);
            shown.set("level", GuidedJson.level(level, Double.NaN, why(now, level)));
        }
        return out;
    }

    /** Begins a check, in place of one on its way. */
    public synchronized ObjectNode begin(int channel, ObjectNode body) {
        ChannelInfo cell = channel(channel);
        if (station.replayState() != null) {
            throw Refusal.notNow("A replay cannot be checked; start the station on the cell itself.");
        }
        if (cell.link().startsWith("virtual:")) {
            throw Refusal.bad("A sum of cells cannot be checked; check its cells.");
        }
        if (!cell.unit().equals("N")) {
            throw Refusal.notNow("This cell has no calibration that could be checked; calibrate it first.");
        }
        CheckedAgainst against = CheckedAgainst.of(cell, inUse(cell, versions(cell)));
        if (Double.isNaN(against.relativeU())) {
            throw Refusal.notNow(
                    "The calibration in use says nothing of its uncertainty, so that nothing tells how far off is"
                            + " too far; calibrate the cell here, or give its link the u of its certificate.");
        }
        CheckPlan plan = CheckPlan.read(body);
        if (cell.ratedLoadN() > 0 && plan.loadN() > cell.ratedLoadN()) {
            throw Refusal.bad(String.format(
                    Locale.ROOT,
                    "The load is %.4g N, and the cell is made for %.4g N at most; choose a smaller one.",
                    plan.loadN(),
                    cell.ratedLoadN()));
        }
        running.put(key(cell), new Running(plan, null));
        return state(channel);
    }

    /**
     * Takes a reading.
     *
     * @param of {@code zero} or {@code load}: what was asked for twice is done once.
     */
    public synchronized ObjectNode take(int channel, String of) {
        ChannelInfo cell = channel(channel);
        Running now = running.get(key(cell));
        if (now == null || !now.next().equals(of)) {
            throw Refusal.notNow("That reading is not the one to take; look at the page again.");
        }
        SteadyLevel level = level(cell);
        String why = why(now, level);
        if (level == null || !why.isEmpty()) {
            throw Refusal.notNow(why);
        }
        SteadyLevel zero = now.zero();
        if (zero == null) {
            running.put(key(cell), new Running(now.plan(), level));
        } else {
            keep(cell, now.plan(), zero, level);
            running.remove(key(cell));
        }
        return state(channel);
    }

    /** Ends a check on its way; nothing of it is kept. */
    public synchronized ObjectNode cancel(int channel) {
        running.remove(key(channel(channel)));
        return state(channel);
    }

    private void keep(ChannelInfo cell, CheckPlan plan, SteadyLevel zero, SteadyLevel loaded) {
        CheckedAgainst against = CheckedAgainst.of(cell, inUse(cell, versions(cell)));
        QuickCheck check = against.judge(plan, zero, loaded);
        KeptCheck kept = new KeptCheck(against.id(), plan, check, zero.meanCounts(), loaded.meanCounts());
        try {
            checks.put(id(cell), cell.deviceChannel(), kept.entry(clock));
        } catch (IOException | ConfigException e) {
            throw Refusal.failed("The check cannot be written: " + e.getMessage() + ".");
        }
    }

    private static String why(Running now, @Nullable SteadyLevel level) {
        if (level == null) {
            return String.format(Locale.ROOT, "No samples for %.0f s without a gap; check the cell's link.", STRETCH_S);
        }
        if (level.overloaded()) {
            return "The converter is at the end of its range: less load, or less gain.";
        }
        SteadyLevel zero = now.zero();
        if (zero != null && unchanged(zero, level)) {
            return "The cell reads as without the load: put it on. If it is on, look at the cell and its wires.";
        }
        if (!level.still()) {
            return "Still moving; wait until it hangs or lies quietly.";
        }
        int left = STILL_S - level.stillS();
        return left > 0 ? "Quiet; wait " + left + " s more." : "";
    }

    private static boolean unchanged(SteadyLevel zero, SteadyLevel level) {
        double noise = NOISE * StrictMath.hypot(zero.sdCounts(), level.sdCounts());
        return Math.abs(level.meanCounts() - zero.meanCounts()) <= Math.max(1, noise);
    }

    private @Nullable SteadyLevel level(ChannelInfo cell) {
        return station.steadyLevel(cell.channel(), STRETCH_S, Double.NaN);
    }

    private ChannelInfo channel(int channel) {
        List<ChannelInfo> channels = station.channels();
        if (channel < 0 || channel >= channels.size()) {
            throw new Refusal(Refusal.Kind.UNKNOWN, "There is no such channel.");
        }
        return channels.get(channel);
    }

    private List<CalibrationVersion> versions(ChannelInfo cell) {
        return cell.deviceId().isEmpty() ? List.of() : calibrations.versions(cell.deviceId(), cell.deviceChannel());
    }

    private @Nullable CalibrationVersion inUse(ChannelInfo cell, List<CalibrationVersion> versions) {
        String id = station.calibrationInUse(cell);
        return versions.stream()
                .filter(one -> one.bound().id().equals(id))
                .findFirst()
                .orElse(null);
    }

    private static List<ObjectNode> entries(CellLog log, ChannelInfo cell) {
        try {
            return log.entries(id(cell), cell.deviceChannel());
        } catch (ConfigException e) {
            throw Refusal.failed(e.getMessage() + ".");
        }
    }

    private static String id(ChannelInfo cell) {
        return cell.deviceId().isEmpty() ? cell.link() : cell.deviceId();
    }

    private static String key(ChannelInfo cell) {
        return id(cell) + "/" + cell.deviceChannel();
    }

    private void newestFirst(ArrayNode out, List<ObjectNode> entries) {
        for (int i = entries.size() - 1; i >= Math.max(0, entries.size() - SHOWN_MOST); i--) {
            String at = entries.get(i).path(CellLog.AT).asText();
            out.add(entries.get(i).put("day", StationDate.day(at, clock.zone())));
        }
    }
}
