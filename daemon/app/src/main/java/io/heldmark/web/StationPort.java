package io.heldmark.web;

import io.heldmark.cell.CellReport;
import io.heldmark.cells.CellStation;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.LinkHealth;
import io.heldmark.model.RecordingState;
import io.heldmark.model.ReplayState;
import io.heldmark.model.SaidConditions;
import io.heldmark.model.Target;
import io.heldmark.pipeline.BoundaryChange;
import io.heldmark.pipeline.Review;
import java.util.List;
import org.jspecify.annotations.Nullable;

/** What the web needs of the station; methods may be called from any thread and do not block for long. */
public interface StationPort extends CellStation {
    /** Returns the object of {@code GET /api/v1/station}. */
    String stationJson();

    @Override
    List<ChannelInfo> channels();

    /** Returns the newest health of every link. */
    List<LinkHealth> linkHealth();

    /** Returns what can be said of the cell behind a channel; absent where there is no such channel. */
    @Nullable CellReport cell(int channel);

    /**
     * Asks for the session zero of these channels, or of all where the list is empty.
     *
     * @return false where it was not taken.
     * @throws IllegalArgumentException if a channel does not exist.
     */
    boolean zero(List<Integer> channels);

    /**
     * Sets a mark of 1 to 500 characters; returns its station time, or -1 where it was not taken.
     *
     * @throws IllegalArgumentException if the text is empty or longer.
     */
    long mark(String text);

    /** Asks to align two cells by a knock, or to forget the knocks so far; false where it was not taken. */
    boolean tap(List<Integer> channels, boolean forget);

    /** Says something of the trials from now on, in place of what was said before; false where it was not taken. */
    boolean trials(SaidConditions said);

    /** Sets the target or takes it away; false where it was not taken. */
    boolean target(@Nullable Target target);

    /** Returns what is known of a finished contraction; absent where it is not known or too long ago. */
    @Nullable Review review(long contractionId);

    /** Says in one sentence why a change of boundaries would be refused now; absent where it can be made. */
    @Nullable String boundaryRefusal(BoundaryChange change);

    /** Changes the boundaries of a contraction and waits until that is done; false where it was not taken. */
    boolean changeBoundary(BoundaryChange change);

    /** Returns where the recording stands. */
    RecordingState recording();

    /** Starts a recording where none runs. */
    RecordingState startRecording();

    /** Ends the recording. */
    RecordingState stopRecording();

    @Override
    @Nullable ReplayState replayState();

    /** Pauses a replay or lets it go on. */
    void pauseReplay(boolean paused);

    /** Sets the speed of a replay; 0 is as fast as possible. */
    void replaySpeed(double speed);

    /** Plays the recording from its start. */
    void restartReplay();

    /** Adds a viewer. */
    ViewerPort join();

    /** Called at every flush, about 60 times a second. */
    void onFlush(long nowNs);

    /** Writes what the station counts, for {@code GET /metrics}. */
    void writeMetrics(PrometheusText out);
}
