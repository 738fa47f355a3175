package io.heldmark.record;

import java.nio.file.Path;
import java.time.ZoneId;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.TimeUnit;

/**
 * Records every input of the station, in processing order, into a pcapng file that survives a crash.
 *
 * <p><b>Method.</b> The acquisition thread puts items into a ring of bytes; the recorder's own thread writes and syncs
 * them (see {@link RecorderConfig} for how soon); a third one waits for the disk while it syncs. The format is described in {@code docs/recording-format.md}.
 *
 * <p><b>Guarantees.</b> (1) Nothing here waits for the disk, except {@link #awaitOpen} and {@link #close}. (2) A chunk
 * allocates nothing. (3) What does not fit is dropped, counted and noted in the file as a gap. (4) An existing file is
 * never overwritten; a new one is readable by its owner only.
 *
 * <p><b>Errors.</b> Whatever the disk does is told through the listener and {@link #status}, never thrown: state failed
 * and one sentence. A failed recorder stays failed; start a new one.
 *
 * <p><b>Threading.</b> {@link #chunk}, {@link #sent}, {@link #event}, {@link #addLink} and {@link #end} belong to one
 * thread, the producer's. {@link #sync} and {@link #status} may be called from any; {@link #close} by the producer, or by
 * anyone after the producer has let go of the recorder.
 */
public final class Recorder implements AutoCloseable {
    private static final long CLOSE_LIMIT_MS = TimeUnit.SECONDS.toMillis(10);

    /** The writer is woken early when the ring is that full: 1/4. */
    private static final int WAKE_SHARE = 4;

    private final RecorderQueue queue;
    private final RecorderWorker worker;
    private final Thread thread;
    private final long wakeBelowFreeBytes;

    private Recorder(RecorderQueue queue, RecorderWorker worker, ExecutorService syncs) {
        this.queue = queue;
        this.worker = worker;
        this.thread = new Thread(() -> run(worker, syncs), "heldmark-recorder");
        long capacityBytes = queue.ring().capacityBytes();
        this.wakeBelowFreeBytes = capacityBytes - capacityBytes / WAKE_SHARE;
        thread.setDaemon(true);
    }

    /**
     * Begins to record into exactly this file; returns at once.
     *
     * @param file a file that does not exist, in a folder that does.
     * @param header what the file says before its first packet.
     * @param listener is told when the file is open, when the recording fails and when it is closed.
     * @param config how to buffer and flush.
     */
    public static Recorder start(Path file, RecordingHeader header, RecorderListener listener, RecorderConfig config) {
        return start(() -> ChannelFile.create(file), file, header, listener, config);
    }

    /**
     * Begins to record into a new file of this folder, named {@code heldmark-YYYYMMDD-HHMMSS.pcapng} after the local time
     * (with {@code -2}, {@code -3}... where the name is taken); returns at once.
     */
    public static Recorder startIn(
            Path folder, RecordingHeader header, RecorderListener listener, RecorderConfig config) {
        long wallNs = config.clock().wallAnchorNs() + config.clock().nowNs();
        RecordingFile.Opener opener = () -> ChannelFile.createIn(folder, wallNs, ZoneId.systemDefault());
        return start(opener, folder, header, listener, config);
    }

    static Recorder start(
            RecordingFile.Opener opener,
            Path place,
            RecordingHeader header,
            RecorderListener listener,
            RecorderConfig config) {
        RecorderQueue queue =
                new RecorderQueue(config.ringBytes(), header.links().size());
        ExecutorService syncs = Executors.newSingleThreadExecutor(Recorder::syncThread);
        RecorderWorker worker = new RecorderWorker(queue, opener, place, header, listener, config, syncs);
        Recorder recorder = new Recorder(queue, worker, syncs);
        recorder.thread.start();
        return recorder;
    }

    /** Adds a link; returns its number, which {@link #chunk} takes. */
    public int addLink(LinkHeader link) {
        return queue.addLink(link);
    }

    /**
     * Takes bytes that a device sent, as one read returned them.
     *
     * @param link number of the link, from 0.
     * @param arrivalNs station time of arrival, in nanoseconds.
     * @return false where they were dropped: the ring is full, the recorder has failed (both are counted) or has ended.
     */
    public boolean chunk(int link, long arrivalNs, byte[] bytes, int offset, int length) {
        return wakeIfFilling(queue.chunk(RecorderQueue.CHUNK, link, arrivalNs, bytes, offset, length));
    }

    /** Takes bytes that the station sent to a device; otherwise as {@link #chunk}. */
    public boolean sent(int link, long atNs, byte[] bytes, int offset, int length) {
        return wakeIfFilling(queue.chunk(RecorderQueue.SENT, link, atNs, bytes, offset, length));
    }

    /**
     * Takes a station event.
     *
     * @param atNs station time, in nanoseconds.
     * @param json one JSON object with the member {@code event} or {@code result}.
     * @return false where it was dropped, as for {@link #chunk}.
     */
    public boolean event(long atNs, String json) {
        return wakeIfFilling(queue.event(atNs, json));
    }

    /** Asks for everything handed over so far to be synced to the disk at once, and returns; any thread. */
    public void sync() {
        worker.requestSync();
    }

    /** Asks the recorder to write the rest and the end and to close the file, and returns. */
    public void end() {
        queue.end();
        worker.wake();
    }

    /** Waits until the file is open or has failed to open, and returns the status; not for the acquisition thread. */
    public RecorderStatus awaitOpen() {
        try {
            worker.awaitOpen();
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
        return status();
    }

    /** Returns where the recorder stands; any thread. */
    public RecorderStatus status() {
        return worker.status();
    }

    /** Ends and waits until the file is closed, 10 s at most for a stuck disk; not for the acquisition thread. */
    @Override
    public void close() {
        end();
        try {
            thread.join(CLOSE_LIMIT_MS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    private static void run(RecorderWorker worker, ExecutorService syncs) {
        try {
            worker.run();
        } finally {
            syncs.shutdown();
        }
    }

    private static Thread syncThread(Runnable syncs) {
        Thread thread = new Thread(syncs, "heldmark-recorder-sync");
        thread.setDaemon(true);
        return thread;
    }

    private boolean wakeIfFilling(boolean taken) {
        if (queue.ring().freeBytes() < wakeBelowFreeBytes) {
            worker.wake();
        }
        return taken;
    }
}
