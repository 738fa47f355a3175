package io.heldmark.record;

import io.heldmark.record.RecorderStatus.State;
import io.heldmark.time.StationClock;
import java.io.IOException;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.Executor;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.LockSupport;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * The consumer's side of a recorder: empties the ring into the file, in cycles.
 *
 * <p><b>Method.</b> Every cycle writes whatever the ring holds; it also begins a sync if the oldest unsynced item could
 * otherwise become older than the sync interval before the next cycle, or if somebody asked. How old an item is, is not
 * known here; it was handed over after the start of the cycle before the one that wrote it, which bounds it.
 *
 * <p><b>Errors.</b> Any failure ends the recorder for good: state failed, one sentence, and the file left readable.
 *
 * <p><b>Threading.</b> {@link #run} on one thread; {@link #status}, {@link #wake} and {@link #requestSync} on any.
 */
final class RecorderWorker implements Runnable {
    private static final Logger LOG = LoggerFactory.getLogger(RecorderWorker.class);

    private final RecorderQueue queue;
    private final RecordingFile.Opener opener;
    private final RecordingHeader header;
    private final RecorderListener listener;
    private final StationClock clock;
    private final Executor syncExecutor;
    private final long writeIntervalNs;
    private final long syncIntervalNs;
    private final ByteRing.Item item = new ByteRing.Item();
    private final CountDownLatch opened = new CountDownLatch(1);

    private @Nullable RecordingWriter writer;
    private volatile @Nullable FileSync fileSync;
    private long cycleStartNs;
    private long syncBegunBytes;
    private long unsyncedSinceNs = -1; // Negative: everything is synced or being synced.
    private boolean syncWanted;
    private boolean lossTold;

    private volatile State state = State.STARTING;
    private volatile String reason = "";
    private volatile Path place;
    private volatile long fileBytes;
    private volatile PacketTally written = new PacketTally();
    private volatile boolean syncRequested;
    private volatile @Nullable Thread thread;

    RecorderWorker(
            RecorderQueue queue,
            RecordingFile.Opener opener,
            Path place,
            RecordingHeader header,
            RecorderListener listener,
            RecorderConfig config,
            Executor syncExecutor) {
        this.syncExecutor = syncExecutor;
        this.queue = queue;
        this.opener = opener;
        this.place = place;
        this.header = header;
        this.listener = listener;
        this.clock = config.clock();
        this.writeIntervalNs = TimeUnit.MILLISECONDS.toNanos(config.writeIntervalMs());
        this.syncIntervalNs = TimeUnit.MILLISECONDS.toNanos(config.syncIntervalMs());
    }

    @Override
    public void run() {
        thread = Thread.currentThread();
        if (!open()) {
            return;
        }
        while (cycle()) {
            LockSupport.parkNanos(this, writeIntervalNs);
        }
    }

    /** Makes the file; false where that failed. */
    boolean open() {
        cycleStartNs = clock.nowNs();
        try {
            RecordingFile file = opener.open();
            place = file.path();
            openWriter(file);
            tell(State.ON, "");
            return true;
        } catch (IOException e) {
            fail(RecorderFaults.cannotStart(place, e));
            return false;
        } catch (RuntimeException e) {
            LOG.error("the recorder failed to start", e);
            fail(RecorderFaults.internal(place, e));
            return false;
        } finally {
            opened.countDown();
        }
    }

    /** Writes what is there, and syncs if it is time; false after the end. */
    boolean cycle() {
        RecordingWriter out = writer;
        FileSync sync = fileSync;
        if (out == null || sync == null) {
            return false;
        }
        boolean ending = queue.ending(); // Read before the ring: what was put in before the end is read below.
        try {
            writeOut(out, sync);
            if (ending) {
                finish(out, sync);
                return false;
            }
            tellLoss();
            return true;
        } catch (IOException e) {
            fail(RecorderFaults.stopped(place, e));
        } catch (RuntimeException e) {
            LOG.error("the recorder failed", e);
            fail(RecorderFaults.internal(place, e));
        }
        return false;
    }

    void wake() {
        LockSupport.unpark(thread);
    }

    void requestSync() {
        syncRequested = true;
        wake();
    }

    /** Waits until the file is open or has failed to open. */
    void awaitOpen() throws InterruptedException {
        opened.await();
    }

    RecorderStatus status() {
        State now = state;
        PacketTally inFile = written;
        FileSync sync = fileSync;
        long lostChunks = queue.refusedChunks();
        long lostBytes = queue.refusedBytes();
        long lostEvents = queue.refusedEvents();
        if (now == State.FAILED) { // What was taken and did not get into the file is lost too.
            lostChunks += queue.takenChunks() - inFile.chunks();
            lostBytes += queue.takenBytes() - inFile.chunkBytes();
            lostEvents += Math.max(0, queue.takenEvents() - inFile.events());
        }
        return new RecorderStatus(
                now,
                place,
                fileBytes,
                inFile.chunks(),
                inFile.events(),
                lostChunks,
                lostBytes,
                lostEvents,
                sync == null ? 0 : sync.longestUnsyncedNs(),
                reason);
    }

    private void openWriter(RecordingFile file) throws IOException {
        try {
            RecordingWriter made = new RecordingWriter(file, header);
            writer = made;
            fileSync = new FileSync(file, syncExecutor, clock);
            written = made.written();
            fileBytes = made.fileBytes();
        } catch (IOException | RuntimeException e) {
            file.close();
            throw e;
        }
    }

    private void writeOut(RecordingWriter out, FileSync sync) throws IOException {
        if (syncRequested) {
            syncRequested = false;
            syncWanted = true;
        }
        long previousStartNs = cycleStartNs;
        cycleStartNs = clock.nowNs();
        sync.throwFault();
        long end = queue.ring().end();
        try {
            while (queue.ring().read(item, end)) {
                write(out);
            }
            out.flush();
        } finally {
            fileBytes = out.fileBytes();
        }
        if (unsyncedSinceNs < 0 && fileBytes != syncBegunBytes) {
            unsyncedSinceNs = previousStartNs;
        }
        beginSyncIfDue(sync);
    }

    private void beginSyncIfDue(FileSync sync) {
        boolean unsynced = unsyncedSinceNs >= 0;
        syncWanted &= unsynced;
        boolean due = unsynced && cycleStartNs + writeIntervalNs - unsyncedSinceNs > syncIntervalNs;
        if ((due || syncWanted) && sync.begin(unsyncedSinceNs)) {
            syncBegunBytes = fileBytes;
            unsyncedSinceNs = -1;
            syncWanted = false;
        }
    }

    private void write(RecordingWriter out) throws IOException {
        switch (item.kind) {
            case RecorderQueue.CHUNK -> out.chunk(item.link, item.timeNs, item.bytes, 0, item.length);
            case RecorderQueue.SENT -> out.sent(item.link, item.timeNs, item.bytes, 0, item.length);
            case RecorderQueue.LINK -> out.addLinkBlock(Arrays.copyOf(item.bytes, item.length));
            default -> out.event(item.timeNs, item.bytes, item.length);
        }
    }

    private void finish(RecordingWriter out, FileSync sync) throws IOException {
        queue.writeOpenGaps(out);
        sync.awaitIdle();
        out.end(clock.nowNs(), queue.refusedChunks(), queue.refusedBytes(), queue.refusedEvents());
        out.close();
        writer = null;
        fileBytes = out.fileBytes();
        tell(State.CLOSED, "");
    }

    private void fail(String sentence) {
        queue.stop();
        RecordingWriter out = writer;
        writer = null;
        if (out != null) {
            try {
                out.close();
            } catch (IOException e) {
                LOG.debug("closing {} failed too", place, e);
            }
            fileBytes = out.fileBytes();
        }
        tell(State.FAILED, sentence);
    }

    private void tellLoss() {
        if (!lossTold && (queue.refusedChunks() > 0 || queue.refusedEvents() > 0)) {
            lossTold = true;
            tell(State.ON, "");
        }
    }

    private void tell(State newState, String newReason) {
        reason = newReason;
        state = newState;
        try {
            listener.onStatus(status());
        } catch (RuntimeException e) {
            LOG.error("a listener of the recorder failed", e);
        }
    }
}
