package io.heldmark.record;

import java.time.Instant;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.Locale;

/** Names of recordings: {@code heldmark-YYYYMMDD-HHMMSS.pcapng} in local time, with {@code -2}, {@code -3}... if taken. */
final class RecordingName {
    private static final DateTimeFormatter STAMP = DateTimeFormatter.ofPattern("yyyyMMdd-HHmmss", Locale.ROOT);
    private static final long NS_PER_S = 1_000_000_000L;

    private RecordingName() {}

    /**
     * Returns a name.
     *
     * @param wallNs wall-clock time of the start, nanoseconds since 1970-01-01T00:00:00Z.
     * @param zone zone of the person who will look for the file.
     * @param attempt 1 for the plain name, then 2, 3...
     */
    static String of(long wallNs, ZoneId zone, int attempt) {
        Instant start = Instant.ofEpochSecond(Math.floorDiv(wallNs, NS_PER_S));
        String counter = attempt == 1 ? "" : "-" + attempt;
        return "heldmark-" + STAMP.format(start.atZone(zone)) + counter + ".pcapng";
    }
}
