package io.heldmark.config;

import io.heldmark.config.Setting.Scope;
import io.heldmark.config.StationSettings.Value;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * Every setting of the station, and how layers of them become the effective settings.
 *
 * <p><b>Layers.</b> Command line over configuration file over defaults. A value replaces the whole value below it. An
 * unknown key or a value out of range is refused with key, value and what is allowed; nothing is rounded or clipped.
 *
 * <p>{@code docs/settings.md} is made from this class ({@link SettingsPage}); a test holds the two together.
 */
public final class Config {
    /** Cut-off of the low-pass filter of the live trace. */
    public static final Setting TRACE_LOW_PASS_HZ = Setting.number(
            "trace.lowPassHz",
            40,
            0,
            1000,
            Scope.RESULT,
            "Cut-off of the causal second-order Butterworth low-pass of the live trace; 0 shows the trace unfiltered. A"
                    + " channel whose sample rate is at most 2.5 times the cut-off is shown unfiltered. The delay of the"
                    + " filter is declared with the channel. Detection and metrics never see this filter.");

    /** Mains notch of the live trace. */
    public static final Setting TRACE_NOTCH_HZ = Setting.choice(
            "trace.notchHz",
            "0",
            List.of("0", "50", "60"),
            Scope.RESULT,
            "Mains hum taken out of the live trace by a notch of quality 10; 0 is none. A channel whose sample rate is at"
                    + " most 2.5 times the frequency is left alone. Detection and metrics never see this filter.");

    /** Channels that are sums of others. */
    public static final Setting CHANNELS_VIRTUAL = Setting.text(
            "channels.virtual",
            "",
            Scope.RESULT,
            "Channels that are sums of others, parted by semicolons: `NAME = SUM`, where SUM adds `LINK#CHANNEL` or"
                    + " `FACTOR*LINK#CHANNEL` with + or -; `@X,Y` behind is its place in mm; links are numbered from 0 in the order left, right, others of the"
                    + " command line. A name that begins with left or right is that limb's. See"
                    + " [Combine cells](how-to/combine-cells.md).");

    /** Lever arms of channels. */
    public static final Setting CHANNELS_LEVERS = Setting.text(
            "channels.levers",
            "",
            Scope.RESULT,
            "Lever arms of channels, parted by semicolons: `NAME = ARM(U)`, in metres with the standard uncertainty in brackets, and"
                    + " behind it `+ TORQUE(U)` where the limb's weight pulls against the muscle, `- TORQUE(U)` where it helps, in N·m."
                    + " NAME is a channel's, a sum's, or left or right. What is said of a trial goes before it."
                    + " See [Combine cells](how-to/combine-cells.md).");

    /** Below this a plate has no centre of pressure. */
    public static final Setting PLATE_LEAST_N = Setting.number(
            "plate.leastN",
            20,
            1,
            1e5,
            Scope.OPERATION,
            "Force in newtons below which the centre of pressure of a plate (`channels.virtual` with places) is not measured. Its"
                    + " uncertainty grows as one over the force. Common practice, no published source.");

    /** How well the places of a plate's cells are known. */
    public static final Setting PLATE_PLACE_U_MM = Setting.number(
            "plate.placeStandardUncertaintyMm",
            1,
            0,
            100,
            Scope.OPERATION,
            "Standard uncertainty of the place of each cell under a plate, along each axis, in mm. A tape that is right"
                    + " within 1.7 mm gives 1.");

    /** What the rig is rated for. */
    public static final Setting RIG_RATED_LOAD_N = Setting.number(
            "rig.ratedLoadN",
            0,
            0,
            1e6,
            Scope.RESULT,
            "What the rig is rated for (frame, straps, cells, whichever is least); a channel that carries more is told at"
                    + " once. 0: nothing is watched.");

    /** Whether the zero is taken without a request. */
    public static final Setting ZERO_AT_START = Setting.onOff(
            "zero.atStart",
            false,
            Scope.RESULT,
            "Whether a channel's session zero is taken without a request, as soon as its trace is quiet. For set-ups in"
                    + " which nobody pulls before; otherwise the zero is taken on request, in the posture of the test.");

    /** Length of the stretch that makes a zero. */
    public static final Setting ZERO_WINDOW_S = Setting.number(
            "zero.windowS",
            1,
            0.5,
            10,
            Scope.RESULT,
            "Length of the quiet stretch whose mean is the session zero; a whole number of tenths.");

    /** How long a quiet stretch is waited for. */
    public static final Setting ZERO_WAIT_S = Setting.number(
            "zero.waitS", 8, 1, 120, Scope.RESULT, "How long after a request a quiet stretch is waited for.");

    /** Most noise of a quiet stretch. */
    public static final Setting ZERO_LIMIT_SD_N = Setting.number(
            "zero.limitSdN",
            8,
            0.001,
            1e6,
            Scope.RESULT,
            "Highest standard deviation of single samples of a quiet stretch (noise and hum of the cell).");

    /** Most movement of a quiet stretch. */
    public static final Setting ZERO_LIMIT_WANDER_N = Setting.number(
            "zero.limitWanderN",
            2,
            0.001,
            1e6,
            Scope.RESULT,
            "Widest spread of the 0.1-s means of a quiet stretch, on top of what noise explains (movement of the limb).");

    /** Fastest change of a quiet stretch. */
    public static final Setting ZERO_LIMIT_SLOPE_N_PER_S = Setting.number(
            "zero.limitSlopeNPerS",
            2,
            0.001,
            1e6,
            Scope.RESULT,
            "Fastest steady change of a quiet stretch (drift or a slow pull).");

    /** Rise that the detector looks at. */
    public static final Setting DETECT_MINIMUM_RISE_N = Setting.number(
            "detect.minimumRiseN",
            5,
            0.1,
            1e4,
            Scope.RESULT,
            "Rise above rest at which a contraction may begin; the larger of this and detect.noiseMultiple holds.");

    /** The same by the noise. */
    public static final Setting DETECT_NOISE_MULTIPLE = Setting.number(
            "detect.noiseMultiple", 5.5, 3, 20, Scope.RESULT, "The same as a multiple of the resting noise.");

    /** Rise that makes a contraction. */
    public static final Setting DETECT_MINIMUM_PEAK_N = Setting.number(
            "detect.minimumPeakN",
            15,
            0.1,
            1e5,
            Scope.RESULT,
            "Rise above rest that a window must reach to be a contraction; at least detect.minimumRiseN.");

    /** Least width of a contraction. */
    public static final Setting DETECT_MINIMUM_WIDTH_S = Setting.number(
            "detect.minimumWidthS",
            0.25,
            0,
            2,
            Scope.RESULT,
            "Time above half the peak that a window must last to be a contraction.");

    /** Longest gap inside. */
    public static final Setting DETECT_LONGEST_GAP_S = Setting.number(
            "detect.longestGapS",
            0.5,
            0.02,
            5,
            Scope.RESULT,
            "Longest stretch of missing samples that a contraction survives.");

    /** Longest contraction. */
    public static final Setting DETECT_LONGEST_S = Setting.number(
            "detect.longestS", 120, 5, 600, Scope.RESULT, "Longest contraction; a longer one is cut and flagged.");

    /** Mismatch of the left and the right cell. */
    public static final Setting CELLS_MISMATCH_PERCENT = Setting.number(
            "cells.mismatchPercent",
            0,
            0,
            50,
            Scope.RESULT,
            "Standard uncertainty of the ratio of the left cell's readings to the right cell's, in per cent, as found with"
                    + " the same known mass on both or by swapping them. It then stands for both calibrations in the"
                    + " asymmetry. 0: they were not compared, and every effort says so.");

    /** Time without samples after which a streaming link is lost. */
    public static final Setting LINK_LOST_AFTER_S = Setting.number(
            "link.lostAfterS",
            1,
            0.2,
            60,
            Scope.RESULT,
            "A streaming link without samples for this long is reported as lost.");

    /** Time between two requests for the device's description. */
    public static final Setting LINK_DESCRIBE_RETRY_S = Setting.number(
            "link.describeRetryS",
            1,
            0.2,
            60,
            Scope.OPERATION,
            "Time between two requests for the device's description, until it has come.");

    /** Pings per second at first. */
    public static final Setting PING_INITIAL_RATE_HZ = Setting.number(
            "ping.initialRateHz",
            25,
            0,
            50,
            Scope.OPERATION,
            "Mean rate of pings, sent at random moments, while the clock of a device is new; 0 sends none. The more,"
                    + " the sooner its clock is known; see docs/alignment.md.");

    /** How long pings are frequent. */
    public static final Setting PING_INITIAL_S = Setting.number(
            "ping.initialS", 20, 0, 600, Scope.OPERATION, "How long after a link came up ping.initialRateHz holds.");

    /** Pings per second later. */
    public static final Setting PING_RATE_HZ = Setting.number(
            "ping.rateHz",
            2,
            0,
            50,
            Scope.OPERATION,
            "Mean rate of pings after that; they keep the clock known. 0 sends none.");

    /** Capacity of the queue between link readers and acquisition. */
    public static final Setting QUEUE_CHUNKS = Setting.whole(
            "queue.chunks",
            4096,
            64,
            65536,
            Scope.OPERATION,
            "Chunks of bytes (up to 2,048 bytes each) that may wait between the link readers and the acquisition thread."
                    + " When it is full a reader drops its chunk, counts it and marks the gap; it never waits.");

    /** Whether a session is recorded from its start. */
    public static final Setting RECORD_AT_START = Setting.onOff(
            "record.atStart",
            true,
            Scope.OPERATION,
            "Whether a session is recorded from its first byte. Only such a recording replays bit for bit.");

    /** Seconds of trace kept for viewers. */
    public static final Setting LIVE_RING_S = Setting.number(
            "live.ringS",
            8,
            1,
            60,
            Scope.OPERATION,
            "Trace of each channel that is kept for viewers that fall behind; what is older is skipped for them and"
                    + " counted.");

    /** Events that may wait for one viewer. */
    public static final Setting LIVE_EVENTS = Setting.whole(
            "live.events",
            512,
            64,
            65536,
            Scope.OPERATION,
            "Events that may wait for one viewer. When it is full, older reports of a state (link, level, latency,"
                    + " recording, replay) give way to newer ones; a viewer that would miss anything else is closed.");

    /** Backlog at which a viewer gets pairs of minimum and maximum. */
    public static final Setting LIVE_REDUCE_AFTER_S = Setting.number(
            "live.reduceAfterS",
            0.5,
            0.1,
            10,
            Scope.OPERATION,
            "A viewer that is this far behind gets pairs of minimum and maximum instead of every sample until it has kept"
                    + " up for three seconds.");

    private static final List<Setting> ALL = List.of(
            TRACE_LOW_PASS_HZ,
            TRACE_NOTCH_HZ,
            CHANNELS_VIRTUAL,
            CHANNELS_LEVERS,
            PLATE_LEAST_N,
            PLATE_PLACE_U_MM,
            RIG_RATED_LOAD_N,
            ZERO_AT_START,
            ZERO_WINDOW_S,
            ZERO_WAIT_S,
            ZERO_LIMIT_SD_N,
            ZERO_LIMIT_WANDER_N,
            ZERO_LIMIT_SLOPE_N_PER_S,
            DETECT_MINIMUM_RISE_N,
            DETECT_NOISE_MULTIPLE,
            DETECT_MINIMUM_PEAK_N,
            DETECT_MINIMUM_WIDTH_S,
            DETECT_LONGEST_GAP_S,
            DETECT_LONGEST_S,
            CELLS_MISMATCH_PERCENT,
            LINK_LOST_AFTER_S,
            LINK_DESCRIBE_RETRY_S,
            PING_INITIAL_RATE_HZ,
            PING_INITIAL_S,
            PING_RATE_HZ,
            QUEUE_CHUNKS,
            RECORD_AT_START,
            LIVE_RING_S,
            LIVE_EVENTS,
            LIVE_REDUCE_AFTER_S);

    private Config() {}

    /** Returns every setting, in the order of the documentation. */
    public static List<Setting> all() {
        return ALL;
    }

    /** Returns the defaults alone. */
    public static StationSettings defaults() {
        return resolve(Map.of(), Map.of());
    }

    /**
     * Makes the effective settings.
     *
     * @param file values of the configuration file by key, as {@link ConfigFile} reads them; may be empty.
     * @param commandLine values of the command line by key; may be empty.
     * @throws ConfigException naming key, value and what is allowed.
     */
    public static StationSettings resolve(Map<String, String> file, Map<String, String> commandLine) {
        checkKeys(file);
        checkKeys(commandLine);
        Map<Setting, Value> values = new LinkedHashMap<>();
        for (Setting setting : ALL) {
            String fromFile = file.get(setting.key());
            String fromLine = commandLine.get(setting.key());
            // A bad value below a good one is refused as well: it would surface on the day the upper one is taken away.
            Object value = setting.parse(setting.defaultText());
            String source = "default";
            if (fromFile != null) {
                value = setting.parse(fromFile);
                source = "configuration file";
            }
            if (fromLine != null) {
                value = setting.parse(fromLine);
                source = "command line";
            }
            values.put(setting, new Value(value, source));
        }
        StationSettings settings = new StationSettings(values);
        checkTogether(settings);
        return settings;
    }

    private static void checkTogether(StationSettings settings) {
        double peakN = settings.number(DETECT_MINIMUM_PEAK_N);
        double riseN = settings.number(DETECT_MINIMUM_RISE_N);
        if (!(peakN >= riseN)) {
            throw new ConfigException(DETECT_MINIMUM_PEAK_N.key(), peakN, "at least detect.minimumRiseN=" + riseN);
        }
        VirtualChannelSpec.parse(CHANNELS_VIRTUAL.key(), settings.text(CHANNELS_VIRTUAL));
        LeverSpec.parse(CHANNELS_LEVERS.key(), settings.text(CHANNELS_LEVERS));
        double tenths = settings.number(ZERO_WINDOW_S) * 10;
        if (Math.abs(tenths - StrictMath.rint(tenths)) > 1e-9) {
            throw new ConfigException(
                    ZERO_WINDOW_S.key(), settings.number(ZERO_WINDOW_S), "a whole number of tenths from 0.5 to 10");
        }
    }

    private static void checkKeys(Map<String, String> layer) {
        for (Map.Entry<String, String> e : layer.entrySet()) {
            if (ALL.stream().noneMatch(s -> s.key().equals(e.getKey()))) {
                throw new ConfigException(e.getKey(), e.getValue(), "there is no such setting; see docs/settings.md");
            }
        }
    }
}
