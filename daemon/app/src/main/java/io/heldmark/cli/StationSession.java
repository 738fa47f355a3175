package io.heldmark.cli;

import io.heldmark.pipeline.Station;
import io.heldmark.time.StationClock;
import io.heldmark.web.RunningStation;
import io.heldmark.web.WebOptions;
import io.heldmark.web.WebServer;
import java.io.PrintWriter;
import java.net.BindException;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.concurrent.CountDownLatch;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * A station in the foreground of the terminal, until Ctrl-C.
 *
 * <p>What was opened is closed in reverse order, whether the process is told to end, the command ends by itself or
 * something fails: the recording is always ended properly unless the process is killed outright.
 */
final class StationSession implements AutoCloseable {
    private static final Logger LOG = LoggerFactory.getLogger(StationSession.class);

    private final Deque<AutoCloseable> open = new ArrayDeque<>();
    private final CountDownLatch closed = new CountDownLatch(1);

    /** Makes a session that ends with the process. */
    StationSession() {
        Runtime.getRuntime().addShutdownHook(new Thread(this::close, "session-end"));
    }

    /** Takes over something that is to be closed with the session. */
    synchronized <T extends AutoCloseable> T own(T resource) {
        open.push(resource);
        return resource;
    }

    /**
     * Serves a station to viewers and starts it, in this order: a busy port is found before anything is recorded.
     *
     * @throws BindException if the port is in use; one line.
     */
    void serve(Station station, StationClock clock, WebOptions web, boolean browser, PrintWriter out)
            throws BindException {
        WebServer server = own(WebServer.start(new RunningStation(station), clock, web, Version.text()));
        station.start();
        out.println("viewer: " + server.url());
        out.flush();
        if (browser) {
            Browser.open(server.url());
        }
    }

    /** Waits until the session ends. */
    void await() throws InterruptedException {
        closed.await();
    }

    @Override
    public synchronized void close() {
        while (!open.isEmpty()) {
            try {
                open.pop().close();
            } catch (Exception e) {
                // The others must be closed all the same.
                LOG.error("closing failed", e);
            }
        }
        closed.countDown();
    }
}
