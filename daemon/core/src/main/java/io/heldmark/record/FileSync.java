package io.heldmark.record;

import io.heldmark.time.StationClock;
import java.io.IOException;
import java.util.concurrent.Executor;
import org.jspecify.annotations.Nullable;

/**
 * Syncs a file beside the writing: a disk that takes long for a sync does not keep the recorder from handing bytes to the
 * operating system, where a crash of the station alone cannot lose them.
 *
 * <p>At most one sync runs at a time.
 *
 * <p><b>Threading.</b> {@link #begin}, {@link #throwFault} and {@link #awaitIdle} belong to the recorder's thread; the
 * sync itself runs on the executor.
 */
final class FileSync {
    private final RecordingFile file;
    private final Executor executor;
    private final StationClock clock;
    private final Object lock = new Object();
    private boolean running;
    private @Nullable IOException fault;
    private long longestUnsyncedNs;

    FileSync(RecordingFile file, Executor executor, StationClock clock) {
        this.file = file;
        this.executor = executor;
        this.clock = clock;
    }

    /**
     * Begins to sync what has been written so far.
     *
     * @param oldestNs earliest time at which any of it may have been handed over.
     * @return false where the sync before is still running.
     */
    boolean begin(long oldestNs) {
        synchronized (lock) {
            if (running) {
                return false;
            }
            running = true;
        }
        executor.execute(() -> sync(oldestNs));
        return true;
    }

    /** Throws what the last sync failed with. */
    void throwFault() throws IOException {
        synchronized (lock) {
            if (fault != null) {
                throw fault;
            }
        }
    }

    /** Waits until no sync runs. */
    void awaitIdle() throws IOException {
        synchronized (lock) {
            try {
                while (running) {
                    lock.wait();
                }
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
                throw new IOException("interrupted while waiting for the disk", e);
            }
        }
        throwFault();
    }

    /** Returns the longest time from handing over to the end of the sync so far; an upper bound. */
    long longestUnsyncedNs() {
        synchronized (lock) {
            return longestUnsyncedNs;
        }
    }

    private void sync(long oldestNs) {
        IOException failure = null;
        try {
            file.checkInPlace();
            file.sync();
        } catch (IOException e) {
            failure = e;
        }
        synchronized (lock) {
            running = false;
            fault = failure;
            longestUnsyncedNs = Math.max(longestUnsyncedNs, clock.nowNs() - oldestNs);
            lock.notifyAll();
        }
    }
}
