package io.heldmark.record;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;

/**
 * What can be said of a recording without replaying it.
 *
 * @param file the file.
 * @param bytes its size.
 * @param header what it says before its first packet.
 * @param firstNs station time of the first packet, in nanoseconds; 0 in a recording without any.
 * @param durationNs time from the first packet to the last, in nanoseconds.
 * @param complete whether the recorder ended the file itself and lost nothing.
 * @param notes sentences for people about what is not as it should be.
 */
public record RecordingSummary(
        Path file,
        long bytes,
        RecordingHeader header,
        long firstNs,
        long durationNs,
        boolean complete,
        List<String> notes) {
    /** Copies the notes. */
    public RecordingSummary {
        notes = List.copyOf(notes);
    }

    /**
     * Sums a recording up and leaves it as it is; one that was not ended properly has to be read to its end for that.
     *
     * @throws RecordingException if the file cannot be read or is not a recording.
     */
    public static RecordingSummary of(Path file) throws RecordingException {
        try (RecordingReader reader = RecordingReader.openUnchanged(file)) {
            RecordedItem item = new RecordedItem();
            long firstNs = reader.next(item) ? item.timeNs() : 0;
            long lastNs = Math.max(firstNs, reader.endNs());
            if (reader.endNs() < 0) {
                while (reader.next(item)) {
                    lastNs = Math.max(lastNs, item.timeNs());
                }
            }
            return new RecordingSummary(
                    file,
                    Files.size(file),
                    reader.header(),
                    firstNs,
                    lastNs - firstNs,
                    reader.complete(),
                    reader.notes());
        } catch (IOException e) {
            throw RecordingRefusals.unreadable(file, e);
        }
    }

    /** Returns the wall-clock time of the first packet, nanoseconds since 1970-01-01T00:00:00Z. */
    public long startedAtWallNs() {
        return header.wallAnchorNs() + firstNs;
    }
}
