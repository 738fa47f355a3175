package io.heldmark.pipeline;

import io.heldmark.model.Boundaries;
import io.heldmark.model.Contraction;
import org.jspecify.annotations.Nullable;

/**
 * What a person does to the boundaries of a finished contraction.
 *
 * <p>The contraction is named by its channel and the onset that the station had found, not by its id: a recording that
 * begins within a session counts ids anew.
 *
 * @param channel station-wide channel number.
 * @param automaticOnsetNs onset that the station found, in nanoseconds of station time.
 * @param kind what is done.
 * @param to where the boundaries are put; present exactly for {@link Kind#MOVE}.
 */
public record BoundaryChange(
        int channel,
        long automaticOnsetNs,
        Kind kind,
        @Nullable Boundaries to) {
    /** How many of the newest finished contractions can be changed. */
    public static final int CONTRACTIONS_MAX = 1000;

    /** What is done. */
    public enum Kind {
        /** Put the boundaries elsewhere. */
        MOVE,
        /** Take the last step back. */
        UNDO,
        /** Take the step again that was taken back. */
        REDO,
        /** Go back to what the station had found; a step like a move. */
        AUTOMATIC
    }

    /** Checks that a move says where to. */
    public BoundaryChange {
        if ((kind == Kind.MOVE) != (to != null)) {
            throw new IllegalArgumentException("boundaries belong to a move, and only there: kind=" + kind);
        }
    }

    /** Returns a move. */
    public static BoundaryChange move(Contraction automatic, Boundaries to) {
        return new BoundaryChange(automatic.channel(), automatic.onsetNs(), Kind.MOVE, to);
    }

    /** Returns a step that needs no boundaries. */
    public static BoundaryChange step(Contraction automatic, Kind kind) {
        return new BoundaryChange(automatic.channel(), automatic.onsetNs(), kind, null);
    }
}
