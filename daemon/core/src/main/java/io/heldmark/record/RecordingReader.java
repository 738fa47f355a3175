package io.heldmark.record;

import java.nio.file.Path;
import java.util.List;

/** Reads a recording packet by packet, with bounded memory. */
public final class RecordingReader implements AutoCloseable {
    private RecordingReader() {}

    /** Opens a recording; one that was not closed is repaired first where that is possible. */
    public static RecordingReader open(Path file) throws RecordingException {
        Pending.check();
        throw Pending.work();
    }

    /** Cuts a half-written tail off and notes it in the file. */
    public static Repair repair(Path file) throws RecordingException {
        Pending.check();
        throw Pending.work();
    }

    /** Returns what the file says before its first packet. */
    public RecordingHeader header() {
        Pending.check();
        throw Pending.work();
    }

    /** Returns the links seen so far; link numbers are indexes into it. */
    public List<LinkHeader> links() {
        Pending.check();
        throw Pending.work();
    }

    /** Reads the next packet; false at the end of what can be read. */
    public boolean next(RecordedItem into) throws RecordingException {
        Pending.check();
        return false;
    }

    /** Returns sentences for people about what is not as it should be (repaired, cut, damaged); empty where all is well. */
    public List<String> notes() {
        Pending.check();
        throw Pending.work();
    }

    @Override
    public void close() {
        Pending.check();
    }
}
