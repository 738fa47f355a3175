package io.heldmark.record;

import java.nio.file.Path;

/**
 * Where a recorder stands.
 *
 * @param state what it is doing.
 * @param file the file; where the recorder picks the name itself, the folder until the file is open.
 * @param bytes bytes written to the file.
 * @param chunks chunks written, in both directions.
 * @param events station events written.
 * @param lostChunks chunks handed over that are not in the file.
 * @param lostBytes bytes of those chunks.
 * @param lostEvents station events handed over that are not in the file.
 * @param longestUnsyncedNs longest time that an item may have waited until it was safe on the disk; an upper bound.
 * @param reason one plain sentence where the recorder has failed, else empty.
 */
public record RecorderStatus(
        State state,
        Path file,
        long bytes,
        long chunks,
        long events,
        long lostChunks,
        long lostBytes,
        long lostEvents,
        long longestUnsyncedNs,
        String reason) {
    /** What a recorder is doing. */
    public enum State {
        /** The file is being made; items are taken already. */
        STARTING,
        /** Recording. */
        ON,
        /** Ended as asked; the file is closed and synced. */
        CLOSED,
        /** Gave up; stays so. What was written before stays readable. */
        FAILED
    }

    /** Returns whether everything handed over so far is in the file or on its way there. */
    public boolean complete() {
        return state != State.FAILED && lostChunks == 0 && lostEvents == 0;
    }
}
