package io.heldmark.pipeline;

import io.heldmark.live.LiveFanout;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.LinkHealth;
import io.heldmark.model.RecordingState;
import io.heldmark.model.ReplayState;
import io.heldmark.model.Target;
import java.nio.file.Path;
import java.util.List;
import org.jspecify.annotations.Nullable;

/** The running station: links, threads, queues, recording, live fan-out. */
@SuppressWarnings("DoNotCallSuggester")
public final class Station implements AutoCloseable {
    private Station() {}

    /** Makes a station of live links; nothing runs before {@link #start()}. */
    public static Station live(StationOptions options, List<LinkSetup> links, LinkOpener opener) {
        throw new UnsupportedOperationException();
    }

    /** Makes a station that plays a recording; throws ConfigException with one line if it cannot be read. */
    public static Station replay(StationOptions options, Path recording) {
        throw new UnsupportedOperationException();
    }

    /** Adds a listener, called on the acquisition thread; before {@link #start()} only. */
    public void addListener(StationListener listener) {
        throw new UnsupportedOperationException();
    }

    /** Starts threads, recording and links. */
    public void start() {
        throw new UnsupportedOperationException();
    }

    /** Returns the fan-out that viewers join. */
    public LiveFanout live() {
        throw new UnsupportedOperationException();
    }

    /** Returns the channels known now. */
    public List<ChannelInfo> channels() {
        throw new UnsupportedOperationException();
    }

    /** Returns the newest health of every link, for scraping. */
    public List<LinkHealth> linkHealth() {
        throw new UnsupportedOperationException();
    }

    /**
     * Asks for the session zero; the result comes as zero events.
     *
     * @param channels station-wide channel numbers; empty for all.
     * @return false where the station is too busy to take the request or plays a recording.
     * @throws IllegalArgumentException if a channel does not exist.
     */
    public boolean zero(List<Integer> channels) {
        throw new UnsupportedOperationException();
    }

    /** Sets a mark of at most 500 characters; returns its station time, or -1 where it was not taken. */
    public long mark(String text) {
        throw new UnsupportedOperationException();
    }

    /** Sets or takes away the target; false where it was not taken. */
    public boolean target(@Nullable Target target) {
        throw new UnsupportedOperationException();
    }

    /** Returns where the recording stands. */
    public RecordingState recording() {
        throw new UnsupportedOperationException();
    }

    /** Starts a recording where none runs. */
    public RecordingState startRecording() {
        throw new UnsupportedOperationException();
    }

    /** Ends the recording. */
    public RecordingState stopRecording() {
        throw new UnsupportedOperationException();
    }

    /** Returns where the replay stands; absent in a live station. */
    public @Nullable ReplayState replayState() {
        throw new UnsupportedOperationException();
    }

    /** Pauses or goes on with a replay; does nothing in a live station. */
    public void pauseReplay(boolean paused) {
        throw new UnsupportedOperationException();
    }

    /** Sets the speed of a replay, 0.1 to 1000; 0 is as fast as possible. */
    public void replaySpeed(double speed) {
        throw new UnsupportedOperationException();
    }

    /** Plays the recording from its start. */
    public void restartReplay() {
        throw new UnsupportedOperationException();
    }

    /** Ends links, threads and recording; idempotent. */
    @Override
    public void close() {
        throw new UnsupportedOperationException();
    }
}
