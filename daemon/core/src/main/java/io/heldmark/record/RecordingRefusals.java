package io.heldmark.record;

import java.io.IOException;
import java.nio.file.AccessDeniedException;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;

/** Every reason to refuse a file, as one line: what, where and what to do. */
final class RecordingRefusals {
    private static final String GIVE_OURS = "give a file that 'heldmark record' or 'heldmark serve' wrote";

    private RecordingRefusals() {}

    static RecordingException noBlock(Path file, long sizeBytes) {
        if (sizeBytes == 0) {
            return new RecordingException(
                    file + " is empty: the station stopped before it wrote anything; the file can be deleted");
        }
        return notPcapng(file);
    }

    static RecordingException notPcapng(Path file) {
        return new RecordingException(
                file + " is not a recording: it does not begin with a pcapng section header; " + GIVE_OURS);
    }

    static RecordingException foreign(Path file) {
        return new RecordingException(file + " is a pcapng file of another program, not a recording: its section header"
                + " has no comment with a schema " + RecordingFacts.SCHEMA + "; " + GIVE_OURS);
    }

    static RecordingException otherVersion(Path file, String schema) {
        return new RecordingException(file + " has the format " + schema + ", this version reads "
                + RecordingFacts.SCHEMA + "; use the version of Heldmark that wrote it, or a newer one");
    }

    static RecordingException badHeader(Path file) {
        return new RecordingException(file + " has a section header whose comment lacks wallAnchorNs, stationVersion or"
                + " settings; the file was changed by another program, use the original");
    }

    static RecordingException noStation(Path file) {
        return new RecordingException(
                file + " ends inside its header: nothing was recorded in it; the file can be deleted");
    }

    static RecordingException silentLink(Path file, int interfaceId) {
        return new RecordingException(file + " has an interface " + interfaceId + " whose comment does not name its"
                + " link; the file was changed by another program, use the original");
    }

    static RecordingException badTime(Path file, long position) {
        return new RecordingException(file + " has a packet before the start of the station's time, at byte " + position
                + "; the file was changed by another program, use the original");
    }

    static RecordingException unreadable(Path file, IOException e) {
        if (e instanceof NoSuchFileException) {
            return new RecordingException(file + " does not exist; check the path", e);
        }
        if (e instanceof AccessDeniedException) {
            return new RecordingException(file + " may not be read by this user; correct its permissions", e);
        }
        return new RecordingException(
                file + " cannot be read (" + e.getMessage() + "); check that it is a file and that the disk is well",
                e);
    }

    static RecordingException notRepairable(String why) {
        return new RecordingException(why);
    }
}
