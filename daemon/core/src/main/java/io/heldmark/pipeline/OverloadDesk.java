package io.heldmark.pipeline;

import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.config.ConfigException;
import io.heldmark.model.CellOverload;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.RecordingState;
import io.heldmark.model.TraceFilter;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.ThreadPoolExecutor;
import java.util.concurrent.TimeUnit;
import java.util.function.Supplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Keeps the overloads of every cell in the data folder ({@link CellLog}), on a thread of its own so that a slow disk holds up
 * nothing.
 *
 * <p>A device that tells no identity is known by its link. What cannot be written is said in the log.
 */
final class OverloadDesk implements StationListener, AutoCloseable {
    private static final Logger LOG = LoggerFactory.getLogger(OverloadDesk.class);
    private static final int MOST_WAITING = 64;
    private static final long END_LIMIT_S = 5;

    private final CellLog log;
    private final long wallAnchorNs;
    private final Supplier<RecordingState> recording;
    private final ThreadPoolExecutor writer = new ThreadPoolExecutor(
            0,
            1,
            1,
            TimeUnit.SECONDS,
            new ArrayBlockingQueue<>(MOST_WAITING),
            work -> {
                Thread made = new Thread(work, "heldmark-overloads");
                made.setDaemon(true);
                return made;
            },
            (task, full) -> LOG.warn("an overload is not written down: the disk is too slow"));
    private List<ChannelInfo> channels = List.of();

    /**
     * Makes it.
     *
     * @param wallAnchorNs wall time of station time 0.
     * @param recording says which recording runs.
     */
    OverloadDesk(Path dataDir, long wallAnchorNs, Supplier<RecordingState> recording) {
        log = CellLog.overloads(dataDir);
        this.wallAnchorNs = wallAnchorNs;
        this.recording = recording;
    }

    @Override
    public void onChannels(List<ChannelInfo> now, List<TraceFilter> traceFilters, long atNs) {
        channels = now;
    }

    @Override
    public void onOverload(CellOverload overload) {
        ChannelInfo cell = channels.get(overload.channel());
        Instant at = Instant.ofEpochSecond(0, wallAnchorNs + overload.sinceNs()).truncatedTo(ChronoUnit.MILLIS);
        ObjectNode entry = JsonNodeFactory.instance.objectNode().put(CellLog.AT, at.toString());
        entry.put("peakN", overload.peakN())
                .put("ratedN", overload.ratedN())
                .put("shareOfRated", overload.shareOfRated());
        if (overload.atLeast()) {
            entry.put("atLeast", true);
        }
        RecordingState running = recording.get();
        if (running.state().equals("on") && running.file() != null) {
            entry.put("recording", running.file());
        }
        String id = cell.deviceId().isEmpty() ? cell.link() : cell.deviceId();
        writer.execute(() -> write(id, cell.deviceChannel(), entry));
    }

    private void write(String id, int channel, ObjectNode entry) {
        try {
            log.put(id, channel, entry);
        } catch (IOException | ConfigException e) {
            LOG.warn("an overload of {} is not written down: {}", id, e.getMessage());
        }
    }

    /** Waits until what was found is written. */
    @Override
    public void close() {
        writer.shutdown();
        try {
            if (!writer.awaitTermination(END_LIMIT_S, TimeUnit.SECONDS)) {
                LOG.warn("overloads may be missing: the disk is too slow");
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }
}
