package io.heldmark.record;

import io.heldmark.config.ConfigException;
import io.heldmark.time.StationClock;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.LockSupport;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Feeds a recording through links and a sink, in file order and from one thread, paced or as fast as possible.
 *
 * <p>Everything carries its recorded time, whatever the pace: the pace decides when an item is fed, never what is fed.
 *
 * <p><b>Back-pressure.</b> Links' listeners and the sink may block; the replay waits for them and drops nothing.
 *
 * <p><b>Errors.</b> Damage in the file ends the replay; {@link #notes} and {@link ReplaySink#onEnd} say so.
 *
 * <p><b>Threading.</b> Feeding happens on the replay's own thread; the controls may be called from any.
 */
public final class Replay implements AutoCloseable {
    /** Slowest pace other than none, as a multiple of real time. */
    public static final double MIN_SPEED = 0.1;

    /** Fastest pace that is kept by a clock. */
    public static final double MAX_SPEED = 100;

    private static final Logger LOG = LoggerFactory.getLogger(Replay.class);
    private static final long IDLE_NS = TimeUnit.SECONDS.toNanos(1);
    private static final long CLOSE_LIMIT_MS = TimeUnit.SECONDS.toMillis(10);

    private final ReplaySink sink;
    private final StationClock clock;
    private final Sleeper sleeper;
    private final ReplayFeed feed;
    private final List<ReplayLink> links;
    private final RecordingSummary summary;
    private final Pacer pacer = new Pacer();
    private final Thread thread = new Thread(this::run, "heldmark-replay");

    private volatile double speed = 1;
    private volatile boolean paused;
    private volatile boolean restartAsked;
    private volatile boolean closed;
    private volatile boolean ended;
    private volatile long positionNs;

    private Replay(Path file, ReplaySink sink, StationClock clock, @Nullable Sleeper sleeper)
            throws RecordingException {
        this.sink = sink;
        this.clock = clock;
        this.sleeper = sleeper == null ? ns -> LockSupport.parkNanos(this, ns) : sleeper;
        this.feed = new ReplayFeed(file, sink);
        this.links = feed.links();
        try {
            this.summary = RecordingSummary.of(file);
        } catch (RecordingException e) {
            feed.close();
            throw e;
        }
        pacer.reset(summary.firstNs());
        thread.setDaemon(true);
    }

    /**
     * Opens a recording for replay; nothing is fed before {@link #start}. One that was not ended properly is repaired
     * first where that is possible.
     *
     * @param clock paces the replay; recorded times have nothing to do with it.
     * @throws RecordingException if the file cannot be read or is not a recording that this version reads.
     */
    public static Replay open(Path file, ReplaySink sink, StationClock clock) throws RecordingException {
        return new Replay(file, sink, clock, null);
    }

    static Replay open(Path file, ReplaySink sink, StationClock clock, Sleeper sleeper) throws RecordingException {
        return new Replay(file, sink, clock, sleeper);
    }

    /** Returns what the recording says before its first packet. */
    public RecordingHeader header() {
        return summary.header();
    }

    /** Returns what can be said of the recording without replaying it. */
    public RecordingSummary summary() {
        return summary;
    }

    /** Returns the recorded links that are known at the start, by number. */
    public List<ReplayLink> links() {
        return links;
    }

    /**
     * Begins to feed.
     *
     * @throws IllegalStateException if a link has not been started: its bytes would be lost.
     */
    public void start() {
        requireStartedLinks();
        thread.start();
    }

    /**
     * Sets the pace; also before {@link #start}.
     *
     * @param newSpeed 0.1 to 100 times real time, or 0 for as fast as possible.
     * @throws ConfigException if it is anything else.
     */
    public void setSpeed(double newSpeed) {
        boolean allowed = newSpeed == Pacer.AS_FAST_AS_POSSIBLE || (newSpeed >= MIN_SPEED && newSpeed <= MAX_SPEED);
        if (!allowed) {
            throw new ConfigException("speed", newSpeed, "0 (as fast as possible) or 0.1 to 100");
        }
        speed = newSpeed;
        wake();
    }

    /** Pauses or goes on. */
    public void setPaused(boolean newPaused) {
        paused = newPaused;
        wake();
    }

    /** Begins again with the first item; also after the end. */
    public void restart() {
        restartAsked = true;
        wake();
    }

    /** Returns where the replay stands. */
    public ReplayProgress progress() {
        return new ReplayProgress(positionNs, summary.durationNs(), speed, paused, ended);
    }

    /** Returns sentences for people about what is not as it should be with the file. */
    public List<String> notes() {
        return feed.notes();
    }

    /** Stops feeding and closes the file; a call that blocks in the sink is interrupted. */
    @Override
    public void close() {
        closed = true;
        if (!thread.isAlive()) {
            feed.close();
            return;
        }
        if (Thread.currentThread() == thread) {
            return; // The thread closes the file itself on its way out.
        }
        thread.interrupt();
        try {
            thread.join(CLOSE_LIMIT_MS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    /** Feeds until it is closed; on the replay's thread, or on a test's. */
    void run() {
        requireStartedLinks();
        try {
            while (!closed) {
                turn();
            }
        } finally {
            feed.close();
        }
    }

    private void turn() {
        try {
            if (restartAsked) {
                rewind();
            }
            if (ended) {
                sleeper.sleep(IDLE_NS);
            } else if (feed.peek()) {
                feedWhenDue();
            } else {
                end(String.join(" ", feed.notes()));
            }
        } catch (RecordingException e) {
            end(String.valueOf(e.getMessage()));
        } catch (RuntimeException e) {
            LOG.error("the replay failed", e);
            end("The replay stopped by a fault of the station (" + e + "); please report it.");
        }
    }

    private void feedWhenDue() throws RecordingException {
        long itemNs = feed.itemNs();
        long nowNs = clock.nowNs();
        pacer.follow(speed, paused, itemNs, nowNs);
        if (paused) {
            sleeper.sleep(IDLE_NS);
            return;
        }
        long waitNs = pacer.waitNs(itemNs, nowNs);
        if (waitNs > 0) {
            sleeper.sleep(waitNs); // Then look again: it may have been woken to be told something else.
            return;
        }
        feed.feed();
        positionNs = Math.max(positionNs, itemNs - summary.firstNs());
    }

    private void rewind() throws RecordingException {
        restartAsked = false;
        feed.restart();
        pacer.reset(summary.firstNs());
        positionNs = 0;
        ended = false;
        sink.onRestart();
    }

    private void end(String note) {
        if (closed) {
            return;
        }
        ended = true;
        try {
            sink.onEnd(note);
        } catch (RuntimeException e) {
            LOG.error("the end of the replay failed", e);
        }
    }

    private void requireStartedLinks() {
        for (ReplayLink link : links) {
            if (!link.started()) {
                throw new IllegalStateException("link " + link.number() + " (" + link.name() + ") is not started");
            }
        }
    }

    private void wake() {
        LockSupport.unpark(thread);
    }
}
