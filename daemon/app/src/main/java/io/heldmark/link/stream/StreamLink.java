package io.heldmark.link.stream;

import io.heldmark.link.Link;
import io.heldmark.link.LinkListener;
import io.heldmark.link.LinkState;
import io.heldmark.time.StationClock;
import java.io.IOException;
import java.util.Arrays;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import org.jspecify.annotations.Nullable;

/**
 * A link over a stream of bytes: connects, reads, and connects again until it is closed.
 *
 * <p><b>Threads.</b> The reader stamps each read right after it returns and hands it over; nothing else happens on it, and
 * it alone opens and closes connections. {@link #send} only queues for the thread of the {@link Sender} and says no when
 * the queue is full.
 *
 * <p><b>States.</b> Only changes are reported: {@code CONNECTING} with the reason while the device was never there,
 * {@code UP}, {@code DOWN} with the reason once it was, {@code FAULT} where somebody has to act.
 */
public final class StreamLink implements Link {
    private static final int READ_BUFFER_BYTES = 16 * 1024;
    private static final long ABSENT_POLL_MS = 250;
    private static final long CLOSE_WAIT_MS = 2000;

    private final String name;
    private final Binding binding;
    private final Connector connector;
    private final StationClock clock;
    private final CountDownLatch closed = new CountDownLatch(1);
    private final Backoff backoff = new Backoff();

    private @Nullable Thread reader;
    private @Nullable LinkState reportedState;
    private String reportedReason = "";
    private boolean wasUp;
    private volatile @Nullable Sender sender;

    /**
     * Makes a link that is not started.
     *
     * @param name the link as the user wrote it.
     * @param binding how messages are put into bytes.
     * @param connector opens connections.
     * @param clock stamps arrivals.
     */
    public StreamLink(String name, Binding binding, Connector connector, StationClock clock) {
        this.name = name;
        this.binding = binding;
        this.connector = connector;
        this.clock = clock;
    }

    @Override
    public String name() {
        return name;
    }

    @Override
    public Binding binding() {
        return binding;
    }

    @Override
    public synchronized void start(LinkListener listener) {
        if (reader != null) {
            throw new IllegalStateException("started twice: link=" + name);
        }
        reader = new Thread(() -> run(listener), "link-read " + name);
        reader.setDaemon(true);
        reader.start();
    }

    @Override
    public boolean send(byte[] bytes, int offset, int length) {
        Sender open = sender;
        return open != null && open.offer(Arrays.copyOfRange(bytes, offset, offset + length));
    }

    @Override
    public void close() {
        closed.countDown();
        Thread reading;
        synchronized (this) {
            reading = reader;
        }
        if (reading != null && reading != Thread.currentThread()) {
            joinBriefly(reading);
        }
    }

    private void run(LinkListener listener) {
        report(listener, LinkState.CONNECTING, "");
        byte[] buffer = new byte[READ_BUFFER_BYTES];
        while (!isClosed()) {
            long waitMs;
            try {
                pump(connector.connect(), buffer, listener);
                waitMs = backoff.nextMs();
            } catch (UnavailableException e) {
                report(listener, stateFor(e.kind()), e.reason());
                waitMs = e.kind() == UnavailableException.Kind.ABSENT ? ABSENT_POLL_MS : backoff.nextMs();
            }
            pause(waitMs);
        }
    }

    private void pump(Connection connection, byte[] buffer, LinkListener listener) {
        Sender opened = new Sender(name, connection);
        sender = opened;
        report(listener, LinkState.UP, connection.remark());
        wasUp = true;
        String reason = "the other side ended the connection";
        try {
            int length = 0;
            while (length >= 0 && !isClosed() && !opened.hasFailed()) {
                length = connection.read(buffer);
                if (length > 0) {
                    listener.onBytes(buffer, 0, length, connection.arrivalNs(clock));
                    backoff.reset();
                }
            }
        } catch (IOException e) {
            reason = String.valueOf(e.getMessage());
        } finally {
            sender = null;
            opened.end();
            connection.close();
        }
        report(listener, LinkState.DOWN, isClosed() ? "closed" : reason + "; trying again");
    }

    private LinkState stateFor(UnavailableException.Kind kind) {
        if (kind == UnavailableException.Kind.REFUSED) {
            return LinkState.FAULT;
        }
        return wasUp ? LinkState.DOWN : LinkState.CONNECTING;
    }

    private void report(LinkListener listener, LinkState state, String reason) {
        if (state != reportedState || !reason.equals(reportedReason)) {
            reportedState = state;
            reportedReason = reason;
            listener.onState(state, reason, clock.nowNs());
        }
    }

    private boolean isClosed() {
        return closed.getCount() == 0;
    }

    private void pause(long waitMs) {
        try {
            closed.await(waitMs, TimeUnit.MILLISECONDS);
        } catch (InterruptedException e) {
            // Nobody of ours interrupts the reader; whoever does wants it to end.
            closed.countDown();
        }
    }

    private static void joinBriefly(Thread thread) {
        try {
            thread.join(CLOSE_WAIT_MS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }
}
