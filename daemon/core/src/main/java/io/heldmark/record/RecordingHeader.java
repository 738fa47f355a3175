package io.heldmark.record;

import java.util.List;

/**
 * What a recording says before its first packet.
 *
 * @param wallAnchorNs wall-clock time at station time 0, nanoseconds since 1970-01-01T00:00:00Z; a packet's time in the
 *     file is this plus its station time.
 * @param stationVersion version of the station that recorded.
 * @param links the links known at the start; more may follow later in the file.
 * @param settingsJson a JSON object with the effective settings of the station; {@code {}} where there are none.
 */
public record RecordingHeader(long wallAnchorNs, String stationVersion, List<LinkHeader> links, String settingsJson) {
    /**
     * Copies the list and checks the settings.
     *
     * @throws IllegalArgumentException if the anchor is negative, or the settings are not a JSON object or do not fit into
     *     one option.
     */
    public RecordingHeader {
        if (wallAnchorNs < 0) {
            throw new IllegalArgumentException("wallAnchorNs out of range: wallAnchorNs=" + wallAnchorNs);
        }
        RecordingFacts.requireShort("stationVersion", stationVersion);
        RecordingFacts.requireObject("settingsJson", settingsJson);
        links = List.copyOf(links);
    }
}
