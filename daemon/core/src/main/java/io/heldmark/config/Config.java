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
            "Mean rate of pings, sent at random moments, while the clock of a device is new; 0 sends none. At least 20 are"
                    + " needed where packets and radio intervals are locked to one another.");

    /** How long pings are frequent. */
    public static final Setting PING_INITIAL_S = Setting.number(
            "ping.initialS", 20, 0, 600, Scope.OPERATION, "How long after a link came up ping.initialRateHz holds.");

    /** Pings per second later. */
    public static final Setting PING_RATE_HZ =
            Setting.number("ping.rateHz", 2, 0, 50, Scope.OPERATION, "Mean rate of pings after that; 0 sends none.");

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
        return new StationSettings(values);
    }

    private static void checkKeys(Map<String, String> layer) {
        for (Map.Entry<String, String> e : layer.entrySet()) {
            if (ALL.stream().noneMatch(s -> s.key().equals(e.getKey()))) {
                throw new ConfigException(e.getKey(), e.getValue(), "there is no such setting; see docs/settings.md");
            }
        }
    }
}
