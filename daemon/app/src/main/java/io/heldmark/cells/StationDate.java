package io.heldmark.cells;

import io.heldmark.time.StationClock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.time.temporal.ChronoUnit;

/** Today, by the station's clock, in universal time: a calibration ends on the same day everywhere. */
public final class StationDate {
    private StationDate() {}

    /** Returns the day. */
    public static LocalDate of(StationClock clock) {
        return LocalDate.ofInstant(instant(clock), ZoneOffset.UTC);
    }

    /** Returns the moment, to the millisecond. */
    static Instant instant(StationClock clock) {
        return Instant.ofEpochSecond(0, clock.wallAnchorNs() + clock.nowNs()).truncatedTo(ChronoUnit.MILLIS);
    }
}
