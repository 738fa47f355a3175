package io.heldmark.cli;

import io.heldmark.model.ReplayState;
import io.heldmark.pipeline.Station;
import io.heldmark.pipeline.StationListener;
import java.io.PrintWriter;

/** Prints what the pipeline finds as the events of the live protocol, one a line: the same recording, the same lines. */
final class EventPrinter implements StationListener {
    private static final long TURN_MS = 20;

    private final PrintWriter out;

    /** Makes a printer. */
    EventPrinter(PrintWriter out) {
        this.out = out;
    }

    /** Waits until the whole recording has been played. */
    void awaitEnd(Station station) throws InterruptedException {
        ReplayState state = station.replayState();
        while (state != null && !state.ended()) {
            Thread.sleep(TURN_MS);
            state = station.replayState();
        }
        out.flush();
    }
}
