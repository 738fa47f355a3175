package io.heldmark.pipeline;

import io.heldmark.cell.CellReport;
import io.heldmark.cell.SteadyLevel;
import io.heldmark.config.Config;
import io.heldmark.link.Link;
import io.heldmark.live.LiveFanout;
import io.heldmark.live.StationFacts;
import io.heldmark.live.ViewerConfig;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Counter;
import io.heldmark.model.Counters;
import io.heldmark.model.LinkHealth;
import io.heldmark.model.RecordingState;
import io.heldmark.model.ReplayState;
import io.heldmark.model.SaidConditions;
import io.heldmark.model.Target;
import io.heldmark.record.LinkHeader;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import org.jspecify.annotations.Nullable;

/**
 * The running station: links, threads, queues, recording, live fan-out.
 *
 * <p><b>Guarantees where threads meet.</b>
 *
 * <ol>
 *   <li>Link readers and requests only put inputs into one bounded {@link InputQueue}.
 *   <li>One acquisition thread takes them in that order: recorder first, then {@link StationCore}, then listeners.
 *   <li>A timer thread puts a clock input into the queue 10 times a second and talks to the devices.
 *   <li>The recorder and the viewers have threads of their own behind bounded hand-offs and never hold up acquisition.
 * </ol>
 */
public final class Station implements AutoCloseable {
    private static final long TASK_LIMIT_S = 5;

    /** Most characters of a mark. */
    public static final int MARK_CHARACTERS_MAX = 500;

    private final StationOptions options;
    private final Counters counters = new Counters();
    private final Listeners listeners = new Listeners(counters);
    private final StationView view = new StationView();
    private final CellDesk cells = new CellDesk();
    private final CalibrationsInUse inUse;
    private final LiveFanout live;
    private final InputQueue queue;
    private final Acquisition acquisition;
    private final RecordingDesk recording;
    private final OverloadDesk overloads;
    private final LinkSource source;
    private final @Nullable ReplaySource replay;
    private boolean started;
    private boolean closed;

    private Station(StationOptions options, List<LinkSetup> setups, SourceMaker sources, boolean isReplay) {
        this.options = options;
        inUse = new CalibrationsInUse(setups);
        live = new LiveFanout(facts(options, isReplay), viewerConfig(options), options.clock(), counters);
        queue = new InputQueue(options.settings().wholeInt(Config.QUEUE_CHUNKS), setups.size());
        List<LinkHeader> headers = setups.stream().map(LinkFacts::write).toList();
        recording = new RecordingDesk(options, headers, live, counters);
        listeners.add(recording);
        listeners.add(new LiveListener(live));
        listeners.add(view);
        listeners.add(cells);
        overloads = new OverloadDesk(options.dataDir(), options.clock().wallAnchorNs(), recording::state);
        if (!isReplay) {
            listeners.add(overloads); // A recording that is played loads no cell.
        }
        acquisition = new Acquisition(options, setups, listeners, counters, live, recording, queue);
        source = sources.make(this);
        replay = source instanceof ReplaySource playing ? playing : null;
    }

    /** Makes what feeds a station, once its queue is there. */
    private interface SourceMaker {
        LinkSource make(Station station);
    }

    /** Makes a station of live links; nothing runs before {@link #start()}. */
    public static Station live(StationOptions options, List<LinkSetup> setups, LinkOpener opener) {
        List<Link> links = new ArrayList<>();
        for (LinkSetup setup : setups) {
            links.add(opener.open(setup.address(), options.clock())); // Refuses here what it does not know.
        }
        return new Station(
                options,
                setups,
                station -> new LiveSource(links, setups, options, station.queue, station.acquisition, station.counters),
                false);
    }

    /** Makes a station that plays a recording; throws ConfigException with one line if it cannot be read. */
    public static Station replay(StationOptions options, Path recording) {
        return replay(options, recording, List.of());
    }

    /** The same, evaluated with these calibrations instead of those that the recording names. */
    public static Station replay(StationOptions options, Path recording, List<BoundCalibration> calibrations) {
        ReplaySource.Opened opened = ReplaySource.open(options, recording, calibrations);
        return new Station(
                opened.options(),
                opened.setups(),
                station -> opened.connect(station.queue, station.acquisition, station.live),
                true);
    }

    /** Adds a listener, called on the acquisition thread; before {@link #start()} only. */
    public void addListener(StationListener listener) {
        listeners.add(listener);
    }

    /** Starts threads, recording and links. */
    public synchronized void start() {
        if (started) {
            throw new IllegalStateException("a station is started once");
        }
        started = true;
        if (replay == null && options.settings().isOn(Config.RECORD_AT_START)) {
            recording.begin(null, options.clock().nowNs());
        }
        acquisition.start();
        source.start();
        recording.tellState();
    }

    /** Returns the fan-out that viewers join. */
    public LiveFanout live() {
        return live;
    }

    /** Returns what was lost and where. */
    public Counters counters() {
        return counters;
    }

    /** Returns the channels known now. */
    public List<ChannelInfo> channels() {
        return view.channels();
    }

    /** Returns what can be said of the cell behind a channel; absent where there is no such channel. */
    public @Nullable CellReport cell(int channel) {
        return cells.report(channel);
    }

    /**
     * Returns the newest stretch of a cell's counts and whether it stands still; absent while it is not long enough.
     *
     * @param seconds its length.
     * @param toleranceCounts movement that does not matter; NaN where unknown.
     */
    public @Nullable SteadyLevel steadyLevel(int channel, double seconds, double toleranceCounts) {
        return cells.steadyLevel(channel, seconds, toleranceCounts);
    }

    /**
     * Uses a calibration for its device's channel from now on; recorded like any input.
     *
     * @return false where the station is too busy to take it or plays a recording.
     */
    public boolean useCalibration(BoundCalibration calibration) {
        boolean taken = request(
                new StationEvent.CalibrationChosen(calibration, options.clock().nowNs()));
        return taken && onAcquisition(() -> inUse.put(calibration));
    }

    /** Returns which saved calibration a channel uses; empty where it uses none. */
    public String calibrationInUse(ChannelInfo channel) {
        return inUse.of(channel);
    }

    /** Returns the folder of the station's data. */
    public Path dataDir() {
        return options.dataDir();
    }

    /** Returns the newest health of every link, for scraping. */
    public List<LinkHealth> linkHealth() {
        return view.linkHealth();
    }

    /**
     * Asks for the session zero; the result comes as zero events.
     *
     * @param channels station-wide channel numbers; empty for all.
     * @return false where the station is too busy to take the request or plays a recording.
     * @throws IllegalArgumentException if a channel does not exist.
     */
    public boolean zero(List<Integer> channels) {
        int known = view.channels().size();
        for (int channel : channels) {
            if (channel < 0 || channel >= known) {
                throw new IllegalArgumentException("there is no channel " + channel);
            }
        }
        return request(new StationEvent.ZeroAsked(
                List.copyOf(channels), options.clock().nowNs()));
    }

    /**
     * Sets a mark.
     *
     * @param text what the mark says, 1 to {@value #MARK_CHARACTERS_MAX} characters.
     * @return its station time, or -1 where the station is too busy to take it or plays a recording.
     * @throws IllegalArgumentException if the text is empty or longer; nothing is cut.
     */
    public long mark(String text) {
        if (text.isEmpty() || text.length() > MARK_CHARACTERS_MAX) {
            throw new IllegalArgumentException(
                    "a mark has 1 to " + MARK_CHARACTERS_MAX + " characters; this one has " + text.length());
        }
        long atNs = options.clock().nowNs();
        return request(new StationEvent.Marked(text, atNs)) ? atNs : -1;
    }

    /**
     * Asks to align two cells by a knock; what comes of it is told as tap events.
     *
     * @param channels the left and the right cell's channel; empty for those of the left and the right limb.
     * @param forget whether to forget the knocks so far instead.
     * @return false where the station is too busy to take the request or plays a recording.
     */
    public boolean tap(List<Integer> channels, boolean forget) {
        return request(new StationEvent.TapAsked(
                List.copyOf(channels), forget, options.clock().nowNs()));
    }

    /** Says something of the trials from now on, in place of what was said before; false where it was not taken. */
    public boolean trials(SaidConditions said) {
        return request(new StationEvent.TrialsSaid(said, options.clock().nowNs()));
    }

    /** Sets or takes away the target; false where it was not taken. */
    public boolean target(@Nullable Target target) {
        return request(new StationEvent.TargetSet(target, options.clock().nowNs()));
    }

    /** Returns what is known of a finished contraction; absent where it is not known or too long ago. */
    public @Nullable Review review(long contractionId) {
        return acquisition.reviews().find(contractionId);
    }

    /** Says in one sentence why a change of boundaries would be refused now; absent where it can be made. */
    public @Nullable String boundaryRefusal(BoundaryChange change) {
        return acquisition.reviews().refusal(change);
    }

    /**
     * Changes the boundaries of a finished contraction, in a replay as well, and waits until that is done.
     *
     * @return false where the station is too busy to take the request.
     */
    public boolean changeBoundary(BoundaryChange change) {
        long nowNs = options.clock().nowNs();
        // A replay's time is that of its recording, which this input must not move on; and a replay keeps the queue
        // full,
        // so that one has to wait for a place like its inputs.
        boolean taken = replay == null
                ? queue.offer(new StationEvent.BoundaryChanged(change, nowNs), nowNs)
                : queue.put(new StationEvent.BoundaryChangedLater(change, wallTime(nowNs), 0), nowNs);
        if (!taken) {
            counters.increment(Counter.INPUT_REQUESTS_REFUSED);
            return false;
        }
        return onAcquisition(() -> {});
    }

    private String wallTime(long nowNs) {
        long wallNs = options.clock().wallAnchorNs() + nowNs;
        return Instant.ofEpochSecond(wallNs / 1_000_000_000L).toString();
    }

    private boolean request(StationEvent event) {
        boolean taken = replay == null && queue.offer(event, event.atNs());
        if (!taken) {
            counters.increment(Counter.INPUT_REQUESTS_REFUSED);
        }
        return taken;
    }

    /** Returns where the recording stands. */
    public RecordingState recording() {
        return recording.state();
    }

    /** Starts a recording where none runs. */
    public RecordingState startRecording() {
        if (replay == null) {
            onAcquisition(() ->
                    recording.begin(acquisition.resumePoint(), options.clock().nowNs()));
        }
        return recording.state();
    }

    /** Ends the recording. */
    public RecordingState stopRecording() {
        onAcquisition(recording::end);
        recording.close();
        return recording.state();
    }

    /** Runs a task between two inputs and waits for it, for a bounded time; tells whether it ran. */
    private boolean onAcquisition(Runnable task) {
        CountDownLatch done = new CountDownLatch(1);
        Runnable told = () -> {
            try {
                task.run();
            } finally {
                done.countDown();
            }
        };
        boolean taken = replay == null ? queue.offer(told) : queue.put(told);
        try {
            if (taken && done.await(TASK_LIMIT_S, TimeUnit.SECONDS)) {
                return true;
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
        counters.increment(Counter.INPUT_REQUESTS_REFUSED);
        return false;
    }

    /** Returns where the replay stands; absent in a live station. */
    public @Nullable ReplayState replayState() {
        return replay == null ? null : replay.state();
    }

    /** Pauses or goes on with a replay; does nothing in a live station. */
    public void pauseReplay(boolean paused) {
        if (replay != null) {
            replay.setPaused(paused);
        }
    }

    /** Sets the speed of a replay, 0.1 to 100; 0 is as fast as possible. */
    public void replaySpeed(double speed) {
        if (replay != null) {
            replay.setSpeed(speed);
        }
    }

    /** Plays the recording from its start. */
    public void restartReplay() {
        if (replay != null) {
            replay.restart();
        }
    }

    /** Ends links, threads and recording; idempotent. */
    @Override
    public synchronized void close() {
        if (closed) {
            return;
        }
        closed = true;
        source.close();
        queue.close();
        if (started) {
            acquisition.awaitEnd();
        }
        recording.close();
        overloads.close();
    }

    private static StationFacts facts(StationOptions options, boolean isReplay) {
        long anchorNs = options.clock().wallAnchorNs();
        Instant start = Instant.ofEpochSecond(anchorNs / 1_000_000_000L, anchorNs % 1_000_000_000L);
        String id = Long.toString(anchorNs / 1_000_000L, 36);
        return new StationFacts(options.version(), id, isReplay, start.toString(), options.invented());
    }

    private static ViewerConfig viewerConfig(StationOptions options) {
        return new ViewerConfig(
                (long) (options.settings().number(Config.LIVE_RING_S) * 1e9),
                options.settings().wholeInt(Config.LIVE_EVENTS),
                (long) (options.settings().number(Config.LIVE_REDUCE_AFTER_S) * 1e9));
    }
}
