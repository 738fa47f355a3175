package io.heldmark.simulator.link;

import java.util.Arrays;

/** Bytes that reach the reader together; reused. */
public final class Chunk {
    private byte[] bytes = new byte[4096];
    private int length;
    private long dueNs;

    /** Empties it and sets when it is due, in nanoseconds. */
    public void begin(long newDueNs) {
        length = 0;
        dueNs = newDueNs;
    }

    void add(byte[] source, int offset, int count) {
        if (length + count > bytes.length) {
            bytes = Arrays.copyOf(bytes, Math.max(2 * bytes.length, length + count));
        }
        System.arraycopy(source, offset, bytes, length, count);
        length += count;
    }

    /** Returns the buffer; the bytes are the first {@link #length()}. */
    public byte[] bytes() {
        return bytes;
    }

    /** Returns how many bytes there are. */
    public int length() {
        return length;
    }

    /** Returns when they reach the reader, in nanoseconds. */
    public long dueNs() {
        return dueNs;
    }
}
