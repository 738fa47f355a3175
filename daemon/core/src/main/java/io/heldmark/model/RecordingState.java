package io.heldmark.model;

import org.jspecify.annotations.Nullable;

/**
 * Where the recording stands.
 *
 * @param state {@code off}, {@code on} or {@code failed}.
 * @param file name of the file, without its folder; absent while there is none.
 * @param bytes bytes written.
 * @param sinceNs station time at which it began.
 * @param complete whether it holds every input of the session from its start, so that a replay gives the same results
 *     bit for bit.
 * @param reason why it failed or is not complete, in plain words; absent otherwise.
 */
public record RecordingState(
        String state,
        @Nullable String file,
        long bytes,
        long sinceNs,
        boolean complete,
        @Nullable String reason) {
    /** No recording. */
    public static final RecordingState OFF = new RecordingState("off", null, 0, 0, false, null);
}
