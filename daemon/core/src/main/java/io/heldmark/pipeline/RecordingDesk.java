package io.heldmark.pipeline;

import io.heldmark.live.EventJson;
import io.heldmark.live.LiveFanout;
import io.heldmark.model.Contraction;
import io.heldmark.model.Counter;
import io.heldmark.model.Counters;
import io.heldmark.model.Effort;
import io.heldmark.model.LinkHealth;
import io.heldmark.model.RecordingState;
import io.heldmark.record.LinkHeader;
import io.heldmark.record.Recorder;
import io.heldmark.record.RecorderConfig;
import io.heldmark.record.RecorderStatus;
import io.heldmark.record.RecordingHeader;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * The station's recording: every input before it is processed, every finished result beside it.
 *
 * <p>A recording that begins with the session is {@code complete}: its replay gives the same results bit for bit. One that
 * begins later starts with the state of links, zeros and target and says that it is not.
 *
 * <p><b>Threading.</b> The acquisition thread, but for {@link #state} and {@link #tellState}.
 */
final class RecordingDesk implements StationListener {
    private static final long TELL_PERIOD_NS = 900_000_000L;
    private static final String LATE = "begun within the session: results before its start are not in it";

    private final StationOptions options;
    private final List<LinkHeader> links;
    private final LiveFanout live;
    private final Counters counters;
    private volatile @Nullable Recorder recorder;
    private volatile long sinceNs;
    private volatile boolean fromStart;
    private volatile @Nullable String refused;
    private long nowNs;
    private long toldNs;
    private long lostChunks;
    private long lostEvents;

    RecordingDesk(StationOptions options, List<LinkHeader> links, LiveFanout live, Counters counters) {
        this.options = options;
        this.links = links;
        this.live = live;
        this.counters = counters;
    }

    /**
     * Begins a recording where none runs.
     *
     * @param resume state of the session so far; absent at its start.
     */
    void begin(@Nullable ResumePoint resume, long atNs) {
        if (state().state().equals("on")) {
            return;
        }
        Path folder = options.dataDir().resolve("recordings");
        refused = null;
        try {
            Files.createDirectories(folder);
        } catch (IOException e) {
            refused = "the folder " + folder + " cannot be made: "
                    + e.getClass().getSimpleName() + " " + e.getMessage() + "; choose another with --data";
            tellState();
            return;
        }
        RecordingHeader header = new RecordingHeader(
                options.clock().wallAnchorNs(),
                options.version(),
                links,
                RecordedSettings.write(options.settings(), options.invented()));
        sinceNs = atNs;
        fromStart = resume == null;
        lostChunks = 0;
        lostEvents = 0;
        recorder =
                Recorder.startIn(folder, header, status -> tellState(), RecorderConfig.withDefaults(options.clock()));
        if (resume != null) {
            event(new StationEvent.Resumed(resume, atNs));
        }
    }

    /** Ends the recording; what was handed over is written first. */
    void end() {
        Recorder running = recorder;
        if (running != null) {
            running.end();
        }
    }

    /** Ends and waits until the file is closed; not on the acquisition thread. */
    void close() {
        Recorder running = recorder;
        if (running != null) {
            running.close();
        }
    }

    void chunk(int link, long arrivalNs, byte[] bytes, int offset, int length) {
        nowNs = Math.max(nowNs, arrivalNs);
        Recorder running = recorder;
        if (running != null) {
            running.chunk(link, arrivalNs, bytes, offset, length);
        }
    }

    void event(StationEvent event) {
        nowNs = Math.max(nowNs, event.atNs());
        Recorder running = recorder;
        if (running == null) {
            return;
        }
        if (event instanceof StationEvent.BytesSent sent) {
            running.sent(sent.link(), sent.atNs(), sent.bytes(), 0, sent.bytes().length);
            return;
        }
        String json = StationEventJson.write(event);
        if (json != null) {
            running.event(event.atNs(), json);
        }
    }

    @Override
    public void onContraction(Contraction contraction) {
        Recorder running = recorder;
        boolean finished = contraction.revision() == Contraction.Revision.FINAL
                || contraction.revision() == Contraction.Revision.MANUAL;
        if (running != null && finished) {
            running.event(nowNs, result("contraction", EventJson.contraction(contraction)));
            running.sync(); // The end of a trial: nothing of it may be lost from here on.
        }
    }

    @Override
    public void onEffort(Effort effort) {
        Recorder running = recorder;
        if (running != null) {
            running.event(nowNs, result("effort", EventJson.effort(effort)));
        }
    }

    @Override
    public void onLinkHealth(LinkHealth health) {
        Recorder running = recorder;
        if (running == null) {
            return;
        }
        if (nowNs - toldNs >= TELL_PERIOD_NS) {
            toldNs = nowNs;
            tellState();
        }
        RecorderStatus status = running.status();
        counters.add(Counter.RECORDER_CHUNKS_LOST, Math.max(0, status.lostChunks() - lostChunks));
        counters.add(Counter.RECORDER_EVENTS_LOST, Math.max(0, status.lostEvents() - lostEvents));
        lostChunks = status.lostChunks();
        lostEvents = status.lostEvents();
    }

    /** Returns where the recording stands; any thread. */
    RecordingState state() {
        String problem = refused;
        if (problem != null) {
            return new RecordingState("failed", null, 0, sinceNs, false, problem);
        }
        Recorder running = recorder;
        if (running == null) {
            return RecordingState.OFF;
        }
        RecorderStatus status = running.status();
        String name = switch (status.state()) {
            case STARTING, ON -> "on";
            case CLOSED -> "off";
            case FAILED -> "failed";
        };
        String file = status.state() == RecorderStatus.State.STARTING
                ? null
                : String.valueOf(status.file().getFileName());
        boolean complete = fromStart && status.complete();
        String reason = status.reason();
        if (reason.isEmpty() && !complete) {
            reason = fromStart ? "input was lost: the disk was too slow" : LATE;
        }
        return new RecordingState(name, file, status.bytes(), sinceNs, complete, reason.isEmpty() ? null : reason);
    }

    /** Tells viewers where the recording stands; any thread. */
    void tellState() {
        live.onRecording(state());
    }

    private static String result(String kind, String json) {
        return "{\"result\":\"" + kind + "\"," + json.substring(1);
    }
}
