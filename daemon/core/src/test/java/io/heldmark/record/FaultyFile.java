package io.heldmark.record;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.file.Path;

/** A file on a disk that fills up, fails to sync or is slow, as a test wants it. */
final class FaultyFile implements RecordingFile {
    private final RecordingFile file;
    private final long capacityBytes;
    private final ManualClock clock;
    private long bytes;
    private int syncs;
    private boolean syncFails;
    private long syncTakesNs;
    private long syncedBytes;

    FaultyFile(RecordingFile file, long capacityBytes, ManualClock clock) {
        this.file = file;
        this.capacityBytes = capacityBytes;
        this.clock = clock;
    }

    void failSync() {
        syncFails = true;
    }

    void slowSync(long ns) {
        syncTakesNs = ns;
    }

    int syncs() {
        return syncs;
    }

    long syncedBytes() {
        return syncedBytes;
    }

    @Override
    public Path path() {
        return file.path();
    }

    /** Writes what fits, and says in the words of Linux when nothing more does. */
    @Override
    public void write(ByteBuffer from) throws IOException {
        long room = capacityBytes - bytes;
        if (room == 0) {
            throw new IOException("No space left on device");
        }
        int limit = from.limit();
        from.limit((int) Math.min(limit, from.position() + room));
        int before = from.position();
        file.write(from);
        bytes += from.position() - before;
        from.limit(limit);
    }

    @Override
    public void sync() throws IOException {
        if (syncFails) {
            throw new IOException("Input/output error");
        }
        syncs++;
        clock.advance(syncTakesNs);
        syncedBytes = bytes;
        file.sync();
    }

    @Override
    public void truncate(long sizeBytes) throws IOException {
        file.truncate(sizeBytes);
    }

    @Override
    public void checkInPlace() throws IOException {
        file.checkInPlace();
    }

    @Override
    public void close() throws IOException {
        file.close();
    }
}
