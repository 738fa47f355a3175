package io.heldmark.cells;

import io.heldmark.time.StationClock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.format.DateTimeParseException;
import java.time.temporal.ChronoUnit;

/** Days by the station's clock, where the station is: a check of this evening is one of today, whatever day it is in Greenwich. */
public final class StationDate {
    private StationDate() {}

    /** Returns today. */
    public static LocalDate of(StationClock clock) {
        return LocalDate.ofInstant(instant(clock), clock.zone());
    }

    /**
     * Returns the day of a moment that a history holds, as ISO 8601 has days; empty where the moment is none.
     *
     * @param at the moment in universal time, as ISO 8601 has it.
     */
    public static String day(String at, ZoneId zone) {
        try {
            return LocalDate.ofInstant(Instant.parse(at), zone).toString();
        } catch (DateTimeParseException e) {
            return "";
        }
    }

    /** Returns the moment, to the millisecond. */
    static Instant instant(StationClock clock) {
        return Instant.ofEpochSecond(0, clock.wallAnchorNs() + clock.nowNs()).truncatedTo(ChronoUnit.MILLIS);
    }
}
