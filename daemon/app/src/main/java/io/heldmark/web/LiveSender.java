package io.heldmark.web;

import io.heldmark.time.StationClock;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * The one thread that sends to viewers: a flush of everybody 60 times a second, and a turn for whoever finished a send.
 *
 * <p>No send blocks it, so that a viewer who does not read costs the others nothing. A flush that comes late is not made up
 * for: the next one carries more samples.
 */
final class LiveSender implements AutoCloseable {
    private static final Logger LOG = LoggerFactory.getLogger(LiveSender.class);
    private static final long FLUSH_NS = 1_000_000_000L / 60;

    private final StationPort station;
    private final StationClock clock;
    private final Set<LiveConnection> connections = ConcurrentHashMap.newKeySet();
    private final LinkedBlockingQueue<LiveConnection> turns = new LinkedBlockingQueue<>();
    private final Thread thread;
    private volatile boolean closed;

    /** Makes a sender that does nothing before {@link #start}. */
    LiveSender(StationPort station, StationClock clock) {
        this.station = station;
        this.clock = clock;
        thread = new Thread(this::run, "live-send");
        thread.setDaemon(true);
    }

    /** Starts the thread. */
    void start() {
        thread.start();
    }

    /** Returns the number of viewers. */
    int viewers() {
        return connections.size();
    }

    /** Adds a viewer. */
    LiveConnection add(ViewerPort viewer, LiveConnection.Socket socket, WebCounters counters) {
        LiveConnection connection = new LiveConnection(viewer, socket, counters, me -> () -> turns.add(me));
        connections.add(connection);
        turns.add(connection);
        return connection;
    }

    /** Takes a viewer out; idempotent. */
    void remove(@Nullable LiveConnection connection) {
        if (connection != null && connections.remove(connection)) {
            connection.leave();
        }
    }

    @Override
    public void close() {
        closed = true;
        thread.interrupt();
        connections.forEach(this::remove);
    }

    private void run() {
        long nextFlushNs = clock.nowNs();
        while (!closed) {
            try {
                long nowNs = clock.nowNs();
                if (nowNs >= nextFlushNs) {
                    flush(nowNs);
                    nextFlushNs = Math.max(nextFlushNs + FLUSH_NS, nowNs);
                }
                LiveConnection turn = turns.poll(nextFlushNs - clock.nowNs(), TimeUnit.NANOSECONDS);
                if (turn != null) {
                    turn.pump();
                }
            } catch (InterruptedException e) {
                return; // close() asked for it.
            } catch (RuntimeException e) {
                // The live view of everybody must not end with one bad event; the cause is in the log.
                LOG.error("sending to viewers failed", e);
            }
        }
    }

    private void flush(long nowNs) {
        station.onFlush(nowNs);
        for (LiveConnection connection : connections) {
            connection.flushDue();
            connection.pump();
        }
    }
}
