package io.heldmark.time;

import java.time.ZoneId;
import java.time.ZoneOffset;

/** Station time: nanoseconds since the station started, monotonic, never stepped by the wall clock. */
public interface StationClock {
    /** Returns the station time now, in nanoseconds, not negative. */
    long nowNs();

    /** Returns the wall-clock time at station time 0, in nanoseconds since 1970-01-01T00:00:00Z; fixed at the start. */
    long wallAnchorNs();

    /** Returns the zone whose days people at the station live by; universal time where nobody says otherwise. */
    default ZoneId zone() {
        return ZoneOffset.UTC;
    }
}
