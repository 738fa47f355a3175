package io.heldmark.live;

import java.util.List;

/** The one live trace and event stream of the station, and its viewers. */
@SuppressWarnings("DoNotCallSuggester")
public final class LiveFanout {
    LiveFanout() {}

    /** Adds a viewer, whose first event is {@code hello}. */
    public Viewer join() {
        throw new UnsupportedOperationException();
    }

    /** Returns the viewers that have joined and not left. */
    public List<Viewer> viewers() {
        throw new UnsupportedOperationException();
    }

    /** Returns the station's object as {@code GET /api/v1/station} gives it. */
    public String stationJson() {
        throw new UnsupportedOperationException();
    }

    /** To be called by the sender thread at every flush, about 60 times a second: latency and replay events. */
    public void onFlush(long nowNs) {
        throw new UnsupportedOperationException();
    }
}
