package io.heldmark.cli;

import io.heldmark.model.ChannelInfo;
import io.heldmark.model.TraceFilter;
import io.heldmark.model.ZeroState;
import io.heldmark.pipeline.Station;
import io.heldmark.pipeline.StationListener;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;

/**
 * Asks for the zero of every channel that has none, and again where it was refused, until each has one.
 *
 * <p>The requests are ordinary ones: they stand in the recording, and the station itself decides whether it was quiet.
 */
final class QuietZero implements StationListener, AutoCloseable {
    private static final long INTERVAL_MS = 1000;

    private final Set<Integer> without = new TreeSet<>();
    private final CountDownLatch closed = new CountDownLatch(1);
    private final Station station;

    /** Makes a listener that asks nothing before {@link #start}. */
    QuietZero(Station station) {
        this.station = station;
    }

    /** Begins to ask; the station tells this listener what came of it. */
    void start() {
        Thread thread = new Thread(this::run, "zero-when-quiet");
        thread.setDaemon(true);
        thread.start();
    }

    @Override
    public synchronized void onChannels(List<ChannelInfo> channels, List<TraceFilter> filters, long atNs) {
        channels.forEach(channel -> without.add(channel.channel()));
    }

    @Override
    public synchronized void onZero(ZeroState zero) {
        switch (zero.state()) {
            case "taking", "taken" -> without.remove(zero.channel());
            default -> without.add(zero.channel());
        }
    }

    @Override
    public void close() {
        closed.countDown();
    }

    private void run() {
        try {
            while (!closed.await(INTERVAL_MS, TimeUnit.MILLISECONDS)) {
                List<Integer> now = stillWithout();
                if (!now.isEmpty()) {
                    station.zero(now); // Too busy: asked again in a second.
                }
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    private synchronized List<Integer> stillWithout() {
        return List.copyOf(without);
    }
}
