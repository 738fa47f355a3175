package io.heldmark.pipeline;

import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.config.ConfigException;
import io.heldmark.link.LinkListener;
import io.heldmark.link.LinkState;
import io.heldmark.live.LiveFanout;
import io.heldmark.model.ReplayState;
import io.heldmark.record.RecordingException;
import io.heldmark.record.Replay;
import io.heldmark.record.ReplayLink;
import io.heldmark.record.ReplayProgress;
import io.heldmark.record.ReplaySink;
import io.heldmark.time.StationClock;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/** A recording that plays through the station: same inputs, same order, same times; nothing is dropped. */
final class ReplaySource implements LinkSource, ReplaySink {
    private static final long TELL_NS = 250_000_000L;

    private final Replay replay;
    private final String file;
    private final StationClock clock;
    private final InputQueue queue;
    private final Acquisition acquisition;
    private final LiveFanout live;
    private final RepeatedTask timer;
    private volatile boolean ended;

    private ReplaySource(
            Replay replay,
            String file,
            StationClock clock,
            InputQueue queue,
            Acquisition acquisition,
            LiveFanout live) {
        this.replay = replay;
        this.file = file;
        this.clock = clock;
        this.queue = queue;
        this.acquisition = acquisition;
        this.live = live;
        timer = new RepeatedTask("heldmark-replay-state", this::tellAndWait, () -> {});
    }

    /** A recording that was opened, and what its header says. */
    record Opened(
            StationOptions options, List<LinkSetup> setups, Replay replay, Relay relay, String file, LaterMoves later) {
        ReplaySource connect(InputQueue queue, Acquisition acquisition, LiveFanout live) {
            ReplaySource source = new ReplaySource(replay, file, options.clock(), queue, acquisition, live);
            relay.target = source;
            acquisition.setLaterMoves(later);
            return source;
        }
    }

    /** Stands in for the sink while the recording is opened, before there is a station to feed. */
    static final class Relay implements ReplaySink {
        private volatile @Nullable ReplaySource target;

        private ReplaySource target() {
            ReplaySource to = target;
            if (to == null) {
                throw new IllegalStateException("a replay feeds only after it was started");
            }
            return to;
        }

        @Override
        public void onEvent(String event, ObjectNode body, long atNs) {
            target().onEvent(event, body, atNs);
        }

        @Override
        public void onLinkAdded(ReplayLink link) {
            target().onLinkAdded(link);
        }

        @Override
        public void onRestart() {
            target().onRestart();
        }

        @Override
        public void onEnd(String note) {
            target().onEnd(note);
        }
    }

    /**
     * Opens a recording.
     *
     * @throws ConfigException with one line if it cannot be read.
     */
    static Opened open(StationOptions options, Path recording, List<BoundCalibration> calibrations) {
        Relay relay = new Relay();
        try {
            LaterMoves later = LaterMoves.beside(recording);
            Replay replay = Replay.open(recording, relay, options.clock());
            RecordedSettings recorded = RecordedSettings.of(replay.header().settingsJson());
            StationOptions own = new StationOptions(
                    options.settings().withResultSettingsOf(recorded.values(), "recording"),
                    options.dataDir(),
                    options.clock(),
                    options.version(),
                    recorded.invented());
            List<LinkSetup> setups = new ArrayList<>();
            for (ReplayLink link : replay.links()) {
                setups.add(LinkFacts.read(link.header()).with(calibrations));
            }
            return new Opened(own, setups, replay, relay, String.valueOf(recording.getFileName()), later);
        } catch (RecordingException e) {
            throw new ConfigException(String.valueOf(e.getMessage()));
        }
    }

    @Override
    public void start() {
        for (ReplayLink link : replay.links()) {
            link.start(new Feeder(link.number()));
        }
        timer.start();
        replay.start();
    }

    @Override
    public void close() {
        timer.close();
        queue.close(); // A feeder that waits for a place must not wait any more.
        replay.close();
    }

    ReplayState state() {
        ReplayProgress p = replay.progress();
        return new ReplayState(file, p.positionNs(), p.durationNs(), p.speed(), p.paused(), ended);
    }

    private long tellAndWait() {
        tellState();
        return TELL_NS;
    }

    private void tellState() {
        live.onReplay(state());
    }

    void setPaused(boolean paused) {
        replay.setPaused(paused);
        tellState();
    }

    void setSpeed(double speed) {
        replay.setSpeed(speed);
        tellState();
    }

    void restart() {
        ended = false;
        replay.restart();
    }

    @Override
    public void onEvent(String event, ObjectNode body, long atNs) {
        StationEvent known = StationEventJson.read(body, atNs);
        if (known != null) {
            queue.put(known, clock.nowNs());
        }
    }

    @Override
    public void onLinkAdded(ReplayLink link) {
        // Stations name every link at the start of a recording; a later one comes from another program.
        link.close(); // Its bytes are passed over.
        live.onNotice("warning", "the link " + link.name() + " was added within the recording and is not played");
    }

    @Override
    public void onRestart() {
        queue.put(() -> {
            ended = false; // here, because the end of the run before may still wait in the queue
            acquisition.restart(state());
        });
    }

    @Override
    public void onEnd(String note) {
        queue.put(() -> {
            ended = true;
            if (!note.isEmpty()) {
                live.onNotice("warning", note);
            }
            tellState();
        });
    }

    /** Puts the bytes and states of one recorded link into the queue and waits where it is full. */
    private final class Feeder implements LinkListener {
        private final int number;

        Feeder(int number) {
            this.number = number;
        }

        @Override
        public void onBytes(byte[] bytes, int offset, int length, long arrivalNs) {
            for (int done = 0; done < length; done += InputQueue.CHUNK_BYTES) {
                int part = Math.min(InputQueue.CHUNK_BYTES, length - done);
                queue.put(number, arrivalNs, clock.nowNs(), bytes, offset + done, part);
            }
        }

        @Override
        public void onState(LinkState state, String reason, long atNs) {
            queue.put(new StationEvent.LinkChanged(number, state, reason, atNs), clock.nowNs());
        }
    }
}
