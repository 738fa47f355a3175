package io.heldmark.record;

import java.nio.charset.StandardCharsets;

/**
 * One packet of a recording; made once by the caller and filled again by every {@link RecordingReader#next}.
 *
 * <p>The bytes belong to the reader and are valid until its next call.
 */
public final class RecordedItem {
    /** What a packet is. */
    public enum Kind {
        /** Bytes that a device sent, as one read returned them. */
        CHUNK,
        /** Bytes that the station sent to a device. */
        SENT,
        /** A JSON object of the station: an event that is replayed, or a result that is not. */
        EVENT
    }

    Kind kind = Kind.EVENT;
    int link = -1;
    long timeNs;
    byte[] bytes = new byte[0];
    int offset;
    int length;

    /** Returns what the packet is. */
    public Kind kind() {
        return kind;
    }

    /** Returns the link's number, from 0 in the order of the file; -1 for station events. */
    public int link() {
        return link;
    }

    /** Returns the station time of arrival (of sending, of the event), in nanoseconds. */
    public long timeNs() {
        return timeNs;
    }

    /** Returns the buffer that holds the payload; read only. */
    public byte[] bytes() {
        return bytes;
    }

    /** Returns where the payload begins. */
    public int offset() {
        return offset;
    }

    /** Returns how many bytes the payload has. */
    public int length() {
        return length;
    }

    /** Returns the payload as text; for events. */
    public String json() {
        return new String(bytes, offset, length, StandardCharsets.UTF_8);
    }
}
