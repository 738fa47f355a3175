package io.heldmark.simulator.fault;

import io.heldmark.simulator.truth.DamageLog;
import io.heldmark.simulator.truth.DamageTruth;
import java.util.ArrayList;
import java.util.List;

/** Stretches of time in which a link does something else than usual, worked out as far as they are asked for. */
public final class Windows {
    private final FaultTimes times;
    private final String kind;
    private final DamageLog log;
    private final List<Window> windows = new ArrayList<>();

    /**
     * A stretch of time.
     *
     * @param fromNs its beginning, in nanoseconds.
     * @param toNs its end, in nanoseconds.
     */
    public record Window(long fromNs, long toNs) {}

    /**
     * Makes the windows of a fault.
     *
     * @param times when they begin, and how long they last.
     * @param kind the fault's name in the truth.
     * @param log takes each window.
     */
    public Windows(FaultTimes times, String kind, DamageLog log) {
        this.times = times;
        this.kind = kind;
        this.log = log;
    }

    /** Returns the end of the window that holds a time, or the time itself where none does; nanoseconds. */
    public long endOf(long timeNs) {
        extendTo(timeNs);
        for (int i = windows.size() - 1; i >= 0; i--) {
            Window window = windows.get(i);
            if (window.fromNs() <= timeNs && timeNs < window.toNs()) {
                return window.toNs();
            }
        }
        return timeNs;
    }

    /** Returns whether a time lies in a window. */
    public boolean contains(long timeNs) {
        return endOf(timeNs) != timeNs;
    }

    /**
     * Returns a window by its number.
     *
     * @return the window; one that never comes where there are not so many.
     */
    public Window window(int index) {
        while (windows.size() <= index && times.nextS() != Double.POSITIVE_INFINITY) {
            makeNext();
        }
        return index < windows.size() ? windows.get(index) : new Window(Long.MAX_VALUE, Long.MAX_VALUE);
    }

    private void extendTo(long timeNs) {
        while (times.nextS() * 1e9 <= timeNs) {
            makeNext();
        }
    }

    private void makeNext() {
        double fromS = times.nextS();
        double toS = fromS + times.drawSize();
        times.advance(toS);
        long fromNs = Math.round(fromS * 1e9);
        if (!windows.isEmpty() && fromNs < windows.get(windows.size() - 1).toNs()) {
            return; // A listed one inside the one before adds nothing.
        }
        windows.add(new Window(fromNs, Math.round(toS * 1e9)));
        log.add(new DamageTruth(kind, fromS, toS, -1, 0, 0, 0));
    }
}
