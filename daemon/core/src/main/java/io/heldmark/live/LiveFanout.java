package io.heldmark.live;

import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Contraction;
import io.heldmark.model.Counter;
import io.heldmark.model.Counters;
import io.heldmark.model.Effort;
import io.heldmark.model.Level;
import io.heldmark.model.LinkHealth;
import io.heldmark.model.RecordingState;
import io.heldmark.model.ReplayState;
import io.heldmark.model.SampleBatch;
import io.heldmark.model.TapState;
import io.heldmark.model.Target;
import io.heldmark.model.TraceFilter;
import io.heldmark.model.ZeroState;
import io.heldmark.time.StationClock;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.atomic.AtomicInteger;
import org.jspecify.annotations.Nullable;

/**
 * The live trace and the events of the station, for any number of viewers.
 *
 * <p><b>Guarantees where threads meet.</b>
 *
 * <ol>
 *   <li>Methods named {@code on…} are called by one thread, the acquisition thread, except {@link #onRecording},
 *       {@link #onReplay}, {@link #onNotice} and {@link #onFlush}, which any thread may call. None of them waits for a
 *       viewer.
 *   <li>A sample is kept once, in its channel's ring; viewers have cursors.
 *   <li>What a viewer that joins is told is at least as new as the first event that it gets: it is added to the viewers
 *       before its first event is made, and every event changes that first event's source before it is handed out.
 * </ol>
 */
public final class LiveFanout {
    private static final long LATENCY_INTERVAL_NS = 1_000_000_000L;

    private final StationFacts facts;
    private final ViewerConfig config;
    private final StationClock clock;
    private final Counters counters;
    private final Snapshot snapshot = new Snapshot();
    private final CopyOnWriteArrayList<Viewer> viewers = new CopyOnWriteArrayList<>();
    private final LatencyMeter arrivalToDecoded = new LatencyMeter();
    private final LatencyMeter arrivalToSent = new LatencyMeter();
    private final LatencyMeter arrivalToPainted = new LatencyMeter();
    private volatile TraceRing[] rings = {};
    private volatile List<ChannelInfo> channels = List.of();
    private final AtomicInteger run = new AtomicInteger(1);
    private volatile long inputNs;
    private long inputReceivedNs;
    private long latencySinceNs;

    /**
     * Makes a fan-out without viewers.
     *
     * @param facts what viewers are told first.
     * @param config limits of the viewers.
     * @param clock station time, against which latencies are taken.
     * @param counters what is lost for viewers is counted here.
     */
    public LiveFanout(StationFacts facts, ViewerConfig config, StationClock clock, Counters counters) {
        this.facts = facts;
        this.config = config;
        this.clock = clock;
        this.counters = counters;
    }

    /** Adds a viewer, whose first event is {@code hello}. */
    public Viewer join() {
        Viewer viewer = new Viewer(this, clock, config);
        viewers.add(viewer);
        counters.increment(Counter.VIEWERS_JOINED);
        viewer.begin(stationJson(JsonOut.event("hello")));
        return viewer;
    }

    /** Returns the viewers that have joined and not left. */
    public List<Viewer> viewers() {
        return List.copyOf(viewers);
    }

    /** Returns the station's object as {@code GET /api/v1/station} gives it. */
    public String stationJson() {
        return stationJson(new JsonOut());
    }

    private String stationJson(JsonOut out) {
        out.text("schema", "heldmark.live/1")
                .text("version", facts.version())
                .text("sessionId", facts.sessionId())
                .whole("run", run.get())
                .text("mode", facts.replay() ? "replay" : "live")
                .text("startedAt", facts.startedAt())
                .seconds("nowS", facts.replay() ? inputNs : clock.nowNs());
        snapshot.writeTo(out, inputNs);
        if (facts.invented()) {
            out.flag("invented", true);
        }
        return out.end();
    }

    /**
     * Begins an input: what follows comes of it.
     *
     * @param atNs its station time; in a replay the recorded one.
     * @param receivedNs when the station really got it.
     */
    public void onInput(long atNs, long receivedNs) {
        inputNs = Math.max(inputNs, atNs);
        inputReceivedNs = receivedNs;
    }

    /** Ends an input that was a chunk of bytes. */
    public void onChunkDone() {
        arrivalToDecoded.record(clock.nowNs() - inputReceivedNs);
    }

    /** Takes the list of channels. */
    public void onChannels(List<ChannelInfo> next, List<TraceFilter> filters) {
        TraceRing[] before = rings;
        TraceRing[] after = new TraceRing[next.size()];
        for (int i = 0; i < after.length; i++) {
            double periodNs = 1e9 / next.get(i).sampleRateHz();
            boolean keep = i < before.length && before[i].periodNs == periodNs;
            after[i] =
                    keep ? before[i] : new TraceRing(i, periodNs, (int) Math.min(1 << 20, config.ringNs() / periodNs));
        }
        channels = List.copyOf(next);
        rings = after;
        String json = EventJson.channels(next, filters);
        snapshot.channels(json);
        broadcast(null, json);
    }

    /** Takes a batch of the live trace. */
    public void onSamples(SampleBatch trace) {
        rings[trace.channel].append(trace, inputReceivedNs);
    }

    /** Takes what every channel reads. */
    public void onLevels(List<Level> levels) {
        if (!viewers.isEmpty()) {
            broadcast("level", EventJson.levels(levels));
        }
    }

    /** Takes a contraction. */
    public void onContraction(Contraction contraction) {
        String json = EventJson.contraction(contraction);
        snapshot.contraction(contraction.id(), inputNs, json);
        broadcast(null, json);
    }

    /** Takes a pair of contractions. */
    public void onEffort(Effort effort) {
        String json = EventJson.effort(effort);
        snapshot.effort(effort.id(), inputNs, json);
        broadcast(null, json);
    }

    /** Takes a link's health. */
    public void onLinkHealth(LinkHealth health) {
        String json = EventJson.link(health);
        snapshot.link(health.link(), json);
        broadcast("link " + health.link(), json);
    }

    /** Takes the zero of a channel. */
    public void onZero(ZeroState zero) {
        List<ChannelInfo> known = channels;
        String unit = zero.channel() < known.size() ? known.get(zero.channel()).unit() : "N";
        String json = EventJson.zero(zero, unit);
        snapshot.zero(zero.channel(), json);
        broadcast(null, json);
    }

    /** Takes where the alignment by a knock stands. */
    public void onTap(TapState tap) {
        String json = EventJson.tap(tap);
        snapshot.tap(tap.state() == TapState.State.NONE ? null : json);
        broadcast(null, json);
    }

    /** Takes a mark. */
    public void onMark(String text, long atNs) {
        broadcast(null, EventJson.mark(text, atNs));
    }

    /** Takes the target; absent: there is none any more. */
    public void onTarget(@Nullable Target target) {
        String json = EventJson.target(target);
        snapshot.target(target == null ? null : json);
        broadcast(null, json);
    }

    /**
     * Takes what is said of the trials from now on.
     *
     * @param json the event.
     * @param any whether anything is said.
     */
    public void onTrials(String json, boolean any) {
        snapshot.trials(any ? json : null);
        broadcast(null, json);
    }

    /** Takes where the recording stands. */
    public void onRecording(RecordingState recording) {
        String json = EventJson.recording(recording);
        snapshot.recording(json);
        broadcast("recording", json);
    }

    /** Takes where the replay stands. */
    public void onReplay(ReplayState replay) {
        String json = EventJson.replay(replay);
        snapshot.replay(json);
        broadcast("replay", json);
    }

    /** Takes something that a person should know. */
    public void onNotice(String severity, String text) {
        broadcast(null, EventJson.notice(severity, text));
    }

    /**
     * Forgets what came of the samples so far, as when a replay begins again. Viewers get {@code hello} anew, with the next
     * run: by it they know where the events of the run before end, whatever else they are told at that time.
     *
     * @param replay where the replay stands now: at its beginning.
     */
    public void onSessionRestart(ReplayState replay) {
        snapshot.forgetSession();
        snapshot.replay(EventJson.replay(replay));
        rings = new TraceRing[0]; // what viewers have not read of the run before is not theirs any more
        channels = List.of();
        inputNs = 0;
        run.incrementAndGet();
        String hello = stationJson(JsonOut.event("hello"));
        broadcast(null, hello);
    }

    /** To be called by the sender at every flush, about 60 times a second: makes the {@code latency} events. */
    public void onFlush() {
        long nowNs = clock.nowNs();
        if (nowNs - latencySinceNs >= LATENCY_INTERVAL_NS) {
            latencySinceNs = nowNs;
            broadcast(
                    "latency",
                    EventJson.latency(
                            arrivalToDecoded.endInterval(),
                            arrivalToSent.endInterval(),
                            arrivalToPainted.endInterval()));
        }
    }

    /** Returns the time from the arrival of bytes to the end of their processing. */
    public LatencyMeter arrivalToDecoded() {
        return arrivalToDecoded;
    }

    /** Returns the time from the arrival of the oldest sample of a message to the end of its sending. */
    public LatencyMeter arrivalToSent() {
        return arrivalToSent;
    }

    /** Returns the time from the arrival of the oldest sample of a message to the word that it has been drawn. */
    public LatencyMeter arrivalToPainted() {
        return arrivalToPainted;
    }

    Counters counters() {
        return counters;
    }

    TraceRing[] rings() {
        return rings;
    }

    void leave(Viewer viewer) {
        viewers.remove(viewer);
    }

    private void broadcast(@Nullable String key, String json) {
        for (Viewer viewer : viewers) {
            viewer.offer(key, json);
        }
    }
}
