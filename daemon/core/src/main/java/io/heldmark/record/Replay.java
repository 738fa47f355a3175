package io.heldmark.record;

import io.heldmark.time.StationClock;
import java.nio.file.Path;
import java.util.List;

/** Feeds a recording through links and a sink, in file order and from one thread, paced or as fast as possible. */
public final class Replay implements AutoCloseable {
    private Replay() {}

    /** Opens a recording for replay; nothing is fed before {@link #start}. */
    public static Replay open(Path file, ReplaySink sink, StationClock clock) throws RecordingException {
        Pending.check();
        throw Pending.work();
    }

    /** Returns what the recording says before its first packet. */
    public RecordingHeader header() {
        Pending.check();
        throw Pending.work();
    }

    /** Returns the recorded links that are known at the start, by number. */
    public List<ReplayLink> links() {
        Pending.check();
        throw Pending.work();
    }

    /** Begins to feed on a thread of its own; every link must have been started. */
    public void start() {
        Pending.check();
    }

    /** Sets the pace: 0.1 to 100 times real time, or 0 for as fast as possible. Also before {@link #start}. */
    public void setSpeed(double speed) {
        Pending.check();
    }

    /** Pauses or goes on. */
    public void setPaused(boolean paused) {
        Pending.check();
    }

    /** Begins again with the first item; also after the end. */
    public void restart() {
        Pending.check();
    }

    /** Returns where the replay stands; any thread. */
    public ReplayProgress progress() {
        Pending.check();
        throw Pending.work();
    }

    /** Returns sentences for people about what is not as it should be with the file. */
    public List<String> notes() {
        Pending.check();
        throw Pending.work();
    }

    /** Stops feeding and closes the file. */
    @Override
    public void close() {
        Pending.check();
    }
}
