package io.heldmark.record;

import java.nio.file.Path;

/** Records every input of the station into a file, behind a ring and on its own thread. */
public final class Recorder implements AutoCloseable {
    private Recorder() {}

    /** Begins to record into exactly this file, which must not exist; returns at once, faults are told to the listener. */
    public static Recorder start(Path file, RecordingHeader header, RecorderListener listener, RecorderConfig config) {
        Pending.check();
        throw Pending.work();
    }

    /** Begins to record into a new file {@code heldmark-YYYYMMDD-HHMMSS.pcapng} in this folder. */
    public static Recorder startIn(
            Path folder, RecordingHeader header, RecorderListener listener, RecorderConfig config) {
        Pending.check();
        throw Pending.work();
    }

    /** Adds a link; returns its number. */
    public int addLink(LinkHeader link) {
        Pending.check();
        return 0;
    }

    /** Takes bytes that a device sent; never blocks; false where they were dropped and counted. */
    public boolean chunk(int link, long arrivalNs, byte[] bytes, int offset, int length) {
        Pending.check();
        return false;
    }

    /** Takes bytes that the station sent; never blocks; false where they were dropped and counted. */
    public boolean sent(int link, long atNs, byte[] bytes, int offset, int length) {
        Pending.check();
        return false;
    }

    /** Takes a station event, one JSON object; never blocks; false where it was dropped and counted. */
    public boolean event(long atNs, String json) {
        Pending.check();
        return false;
    }

    /** Asks for everything handed over so far to be synced to the disk soon; returns at once; any thread. */
    public void sync() {
        Pending.check();
    }

    /** Asks the recorder to write the rest and the end event and to close; returns at once. */
    public void end() {
        Pending.check();
    }

    /** Waits until the file is open or has failed to open, and returns the status then; not for the acquisition thread. */
    public RecorderStatus awaitOpen() {
        Pending.check();
        throw Pending.work();
    }

    /** Returns the status now; any thread. */
    public RecorderStatus status() {
        Pending.check();
        throw Pending.work();
    }

    /** Ends and waits until the file is closed (10 s at most); not for the acquisition thread. */
    @Override
    public void close() {
        Pending.check();
    }
}
