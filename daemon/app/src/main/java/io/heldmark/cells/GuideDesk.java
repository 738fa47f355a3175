package io.heldmark.cells;

import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.calibration.CalibrationException;
import io.heldmark.calibration.CalibrationLimits;
import io.heldmark.calibration.CalibrationResult;
import io.heldmark.calibration.CalibrationSeries;
import io.heldmark.calibration.SeriesStep;
import io.heldmark.calibration.TakenReading;
import io.heldmark.cell.SteadyLevel;
import io.heldmark.model.ChannelInfo;
import io.heldmark.pipeline.CalibrationStore;
import io.heldmark.pipeline.CalibrationVersion;
import io.heldmark.pipeline.StationCalibration;
import io.heldmark.time.StationClock;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/**
 * The guided calibration of a station, at most one at a time, and the saved versions of its cells.
 *
 * <p>Every step is kept on the disk before it is answered, so that a page that is loaded again, another page and a station that
 * was started again go on where it stands. Nothing is saved as a calibration before {@link #save}.
 *
 * <p><b>Errors.</b> {@link Refusal} with one sentence for people; the state then is as it was.
 *
 * <p><b>Threading.</b> Any thread; one request at a time.
 */
public final class GuideDesk {
    /** What a certificate names as the origin of the readings. */
    static final String INPUT = "guided calibration in the viewer";

    private final CellStation station;
    private final StationClock clock;
    private final String stationVersion;
    private final GuidedStore store;
    private final CalibrationStore calibrations;
    private @Nullable GuidedCalibration guided;
    private boolean loaded;

    /** Makes the desk of a station; reads nothing yet. */
    public GuideDesk(CellStation station, StationClock clock, String stationVersion) {
        this(station, clock, stationVersion, new GuidedStore(station.dataDir()));
    }

    /** Makes the desk with another place to keep what is on its way. */
    GuideDesk(CellStation station, StationClock clock, String stationVersion, GuidedStore store) {
        this.station = station;
        this.clock = clock;
        this.stationVersion = stationVersion;
        this.store = store;
        calibrations = new CalibrationStore(station.dataDir());
    }

    /** Returns the members that a plan may have. */
    public static List<String> planMembers() {
        return GuidedPlan.MEMBERS;
    }

    /** Returns where the guided calibration stands. */
    public synchronized ObjectNode state() {
        GuidedCalibration now = now();
        return now == null ? GuidedJson.none() : GuidedJson.of(now, channelOf(now), stationVersion);
    }

    /** Begins one with the cell behind a channel. */
    public synchronized ObjectNode begin(int channel, ObjectNode plan) {
        if (station.replayState() != null) {
            throw Refusal.notNow("A replay cannot be calibrated; start the station on the cell itself.");
        }
        if (now() != null) {
            throw Refusal.notNow("A guided calibration is on its way; go on with it, or cancel it first.");
        }
        ChannelInfo cell = channel(channel);
        if (cell.link().startsWith("virtual:")) {
            throw Refusal.bad("A sum of cells cannot be calibrated; calibrate its cells.");
        }
        GuidedPlan read = GuidedPlan.read(plan);
        double greatestN = Math.abs(read.series().greatest() * read.reference().newtonsPerUnit());
        if (cell.ratedLoadN() > 0 && greatestN > cell.ratedLoadN()) {
            throw Refusal.bad(String.format(
                    Locale.ROOT,
                    "The greatest load is %.4g N, and the cell is made for %.4g N at most; choose smaller loads.",
                    greatestN,
                    cell.ratedLoadN()));
        }
        String id = Long.toString((clock.wallAnchorNs() + clock.nowNs()) / 1_000_000, 36);
        GuidedCalibration begun = new GuidedCalibration(
                id, new GuidedCalibration.Cell(cell.deviceId(), cell.deviceChannel(), cell.link(), cell.name()), read);
        store.keep(begun);
        guided = begun;
        return state();
    }

    /** Returns the live reading for the step to do. */
    public synchronized ObjectNode level() {
        GuidedCalibration running = running();
        SteadyLevel level = level(running);
        return GuidedJson.level(level, shown(running, level), why(running, level));
    }

    /**
     * Does a step.
     *
     * @param step its number, counted from 0: what was asked for twice is done once.
     * @param applied what a reference cell shows, in the unit of the plan; NaN for the planned load.
     * @param anyway whether the reading is taken although the cell still moves.
     */
    public synchronized ObjectNode take(int step, double applied, boolean anyway) {
        GuidedCalibration running = running();
        CalibrationSeries series = running.series();
        if (step != series.done()) {
            throw Refusal.notNow("Step " + (step + 1) + " is not the one to do; look at the page again.");
        }
        SeriesStep next = series.steps().get(step);
        TakenReading taken = TakenReading.confirmed(wallTime());
        if (next.kind() == SeriesStep.Kind.READ) {
            taken = reading(running, next, applied, anyway);
        }
        try {
            series.take(taken);
        } catch (IllegalArgumentException e) {
            throw Refusal.bad(String.valueOf(e.getMessage()));
        }
        keepOrUndo(running);
        return state();
    }

    private TakenReading reading(GuidedCalibration running, SeriesStep step, double applied, boolean anyway) {
        SteadyLevel level = level(running);
        String why = why(running, level);
        if (level == null || level.overloaded() || (!why.isEmpty() && !anyway)) {
            throw Refusal.notNow(why);
        }
        boolean own = Double.isNaN(applied) || step.atZero();
        return new TakenReading(
                level.meanCounts(),
                level.sdCounts(),
                level.samples(),
                level.seconds(),
                own ? step.applied() : applied,
                !why.isEmpty(),
                wallTime());
    }

    private void keepOrUndo(GuidedCalibration running) {
        try {
            store.keep(running);
        } catch (Refusal e) {
            running.series().undo();
            throw e;
        }
    }

    /** Takes the last step back. */
    public synchronized ObjectNode undo() {
        GuidedCalibration running = now();
        if (running == null || running.series().done() == 0) {
            throw Refusal.notNow("There is no step to take back.");
        }
        if (!running.saved().isEmpty()) {
            throw Refusal.notNow("It is saved as " + running.saved() + " and stays as it is; begin a new one.");
        }
        running.series().undo();
        store.keep(running);
        return state();
    }

    /** Ends the guided calibration; what was not saved is gone. */
    public synchronized ObjectNode cancel() {
        store.forget();
        guided = null;
        loaded = true;
        return state();
    }

    /** Saves what was found as the next version of the cell, and uses it from now on. */
    public synchronized ObjectNode save() {
        GuidedCalibration done = finished();
        if (!done.saved().isEmpty()) {
            throw Refusal.notNow("It is saved already, as " + done.saved() + ".");
        }
        String device = done.cell().deviceId();
        if (device.isEmpty()) {
            throw Refusal.notNow(
                    "This device tells no identity that a calibration could be bound to; write the numbers of the"
                            + " certificate into its link (slope, zero and u).");
        }
        LocalDate today = StationDate.of(clock);
        CalibrationResult result = result(done);
        ObjectNode document = new CalibrationDocument(result, CalibrationLimits.DEFAULTS).json(INPUT, stationVersion);
        document.put("calibratedBy", done.plan().by()).put("evaluatedOn", today.toString());
        document.put("loadsDescribed", done.plan().loadsDescribed());
        document.set("guided", done.write(document.objectNode()));
        try {
            StationCalibration inUse = StationCalibration.of(result, done.plan().loadsDescribed());
            Path file = calibrations.save(
                    document,
                    device,
                    done.cell().deviceChannel(),
                    today.plusDays(done.plan().validDays()),
                    inUse);
            done.savedAs(document.path("id").asText());
            store.keep(done);
            ObjectNode state = state();
            return state.put("usedAtOnce", station.useCalibration(CalibrationStore.read(file)));
        } catch (CalibrationException e) {
            throw Refusal.notNow(GuidedCalibration.ofSteps(String.valueOf(e.getMessage())) + ".");
        } catch (IOException e) {
            throw Refusal.failed("The calibration cannot be written: " + e.getMessage() + ".");
        }
    }

    /** Returns what the readings of a finished one give. */
    synchronized CalibrationResult finishedResult() {
        return result(finished());
    }

    /** Returns the certificate of a finished one; writing it as PDF takes a second, and is not for the one request at a time. */
    public synchronized CalibrationCertificate certificate() {
        GuidedCalibration done = finished();
        String evaluatedOn = StationDate.of(clock).toString();
        LocalDate validUntil = StationDate.of(clock).plusDays(done.plan().validDays());
        for (CalibrationVersion one :
                calibrations.versions(done.cell().deviceId(), done.cell().deviceChannel())) {
            if (one.bound().id().equals(done.saved())) {
                evaluatedOn = one.evaluatedOn();
                validUntil = one.validUntil();
            }
        }
        CalibrationFacts facts = new CalibrationFacts(
                done.saved(),
                done.cell().deviceId(),
                done.cell().deviceChannel(),
                done.plan().by(),
                done.plan().loadsDescribed(),
                INPUT,
                evaluatedOn,
                validUntil,
                stationVersion);
        return new CalibrationCertificate(result(done), CalibrationLimits.DEFAULTS, facts, GuidedCalibration::ofSteps);
    }

    /** Returns the saved versions of the cell behind a channel. */
    public synchronized ObjectNode versions(int channel) {
        ChannelInfo cell = channel(channel);
        List<CalibrationVersion> versions =
                cell.deviceId().isEmpty() ? List.of() : calibrations.versions(cell.deviceId(), cell.deviceChannel());
        return GuidedJson.versions(versions, station.calibrationInUse(cell), StationDate.of(clock));
    }

    /** Uses a saved version for the cell behind a channel from now on. */
    public synchronized ObjectNode choose(int channel, int version) {
        ChannelInfo cell = channel(channel);
        if (station.replayState() != null) {
            throw Refusal.notNow(
                    "A replay keeps the calibrations of its recording; analyse it with another one instead.");
        }
        CalibrationVersion chosen = calibrations.versions(cell.deviceId(), cell.deviceChannel()).stream()
                .filter(one -> one.version() == version)
                .findFirst()
                .orElseThrow(() -> new Refusal(Refusal.Kind.UNKNOWN, "There is no such version of this cell."));
        if (chosen.overOn(StationDate.of(clock))) {
            throw Refusal.notNow("That calibration was valid until " + chosen.validUntil()
                    + "; choose another, or calibrate the cell again.");
        }
        try {
            calibrations.choose(chosen);
        } catch (IOException e) {
            throw Refusal.failed("The choice cannot be written down: " + e.getMessage() + ".");
        }
        if (!station.useCalibration(chosen.bound())) {
            throw Refusal.failed("The station is too busy to change now; it uses that version from its next start.");
        }
        return versions(channel);
    }

    private ChannelInfo channel(int channel) {
        List<ChannelInfo> channels = station.channels();
        if (channel < 0 || channel >= channels.size()) {
            throw new Refusal(Refusal.Kind.UNKNOWN, "There is no such channel.");
        }
        return channels.get(channel);
    }

    private @Nullable GuidedCalibration now() {
        if (!loaded) {
            guided = store.load();
            loaded = true;
        }
        return guided;
    }

    private GuidedCalibration running() {
        GuidedCalibration now = now();
        if (now == null || now.series().finished()) {
            throw Refusal.notNow(
                    now == null
                            ? "No guided calibration is on its way."
                            : "Every step is done; save it, or take one back.");
        }
        return now;
    }

    private GuidedCalibration finished() {
        GuidedCalibration now = now();
        if (now == null || !now.series().finished()) {
            throw Refusal.notNow("There is no finished guided calibration.");
        }
        return now;
    }

    private static CalibrationResult result(GuidedCalibration done) {
        try {
            return done.result();
        } catch (CalibrationException e) {
            throw Refusal.notNow(GuidedCalibration.ofSteps(String.valueOf(e.getMessage())) + ".");
        }
    }

    private int channelOf(GuidedCalibration of) {
        for (ChannelInfo channel : station.channels()) {
            if (of.cell().is(channel)) {
                return channel.channel();
            }
        }
        return -1;
    }

    private @Nullable SteadyLevel level(GuidedCalibration running) {
        double tolerance = running.series().toleranceCounts();
        return station.steadyLevel(channelOf(running), running.plan().stretchS(), tolerance);
    }

    private static double shown(GuidedCalibration running, @Nullable SteadyLevel level) {
        return level == null ? Double.NaN : running.series().shown(level.meanCounts());
    }

    /** Returns what is missing before the reading can be taken; empty where nothing is. */
    private static String why(GuidedCalibration running, @Nullable SteadyLevel level) {
        if (level == null) {
            return String.format(
                    Locale.ROOT,
                    "No samples for %.0f s without a gap; check the cell's link.",
                    running.plan().stretchS());
        }
        if (level.overloaded()) {
            return "The converter is at the end of its range: less load, or less gain.";
        }
        if (!level.still()) {
            return "Still moving; wait until it hangs or lies quietly.";
        }
        if (running.series().unchanged(level.meanCounts(), level.sdCounts())) {
            return "The cell reads as at the step before; change the load.";
        }
        int left = running.plan().waitS() - level.stillS();
        return left > 0 ? "Quiet; wait " + left + " s more, as long at every step." : "";
    }

    private String wallTime() {
        return Instant.ofEpochSecond(0, clock.wallAnchorNs() + clock.nowNs())
                .truncatedTo(ChronoUnit.SECONDS)
                .toString();
    }
}
