package io.heldmark.protocol;

/**
 * Consistent overhead byte stuffing: bytes without 0x00, one byte longer per 254 begun. Delimiters are the caller's.
 *
 * <p><b>Source.</b> S. Cheshire, M. Baker, "Consistent Overhead Byte Stuffing", IEEE/ACM Transactions on Networking
 * 7(2), 1999, 159-172, <a href="https://doi.org/10.1109/90.769765">doi:10.1109/90.769765</a>.
 */
final class Cobs {
    /** Answer of {@link #zeroMarks} where a frame has to be decoded by {@link #decode}; nothing was changed. */
    static final int FULL_BLOCK_INSIDE = -2;
    /** Index of the first byte after {@link #zeroMarks}. */
    static final int MARKS_ZEROED = 1;

    private static final int FULL_BLOCK = 0xFF;

    private Cobs() {}

    /**
     * Stuffs bytes and returns the stuffed length. A frame that ends with a full block gets no empty block after it.
     *
     * @param in bytes to stuff, from index 0.
     * @param length number of bytes.
     * @param out room for {@code length + length / 254 + 1} bytes from {@code outOffset}; another array than {@code in}.
     * @param outOffset index of the first stuffed byte.
     */
    static int encode(byte[] in, int length, byte[] out, int outOffset) {
        int codeAt = outOffset;
        int write = outOffset + 1;
        for (int read = 0; read < length; read++) {
            if (in[read] != 0) {
                out[write++] = in[read];
            }
            boolean full = write - codeAt == FULL_BLOCK;
            if (in[read] == 0 || (full && read + 1 < length)) {
                out[codeAt] = (byte) (write - codeAt);
                codeAt = write++;
            }
        }
        out[codeAt] = (byte) (write - codeAt);
        return write - outOffset;
    }

    /**
     * Removes the stuffing without moving a byte: every mark but the first becomes the zero that it stands for, and the
     * bytes begin at index 1. Returns the length, -1 where a block reaches past the end, or {@link #FULL_BLOCK_INSIDE}.
     *
     * @param bytes stuffed bytes from index 0, none of them zero.
     * @param length number of stuffed bytes, at least 1.
     */
    static int zeroMarks(byte[] bytes, int length) {
        int at = 0;
        while (at < length) {
            int code = bytes[at] & 0xFF;
            if (code == FULL_BLOCK) {
                return FULL_BLOCK_INSIDE;
            }
            at += code;
        }
        if (at != length) {
            return -1;
        }
        at = bytes[0] & 0xFF;
        while (at < length) {
            int code = bytes[at] & 0xFF;
            bytes[at] = 0;
            at += code;
        }
        return length - 1;
    }

    /**
     * Removes the stuffing in place and returns the length, or -1 where a block reaches past the end.
     *
     * @param bytes stuffed bytes from index 0, none of them zero.
     * @param length number of stuffed bytes.
     */
    static int decode(byte[] bytes, int length) {
        int read = 0;
        int write = 0;
        while (read < length) {
            int code = bytes[read++] & 0xFF;
            int blockEnd = read + code - 1;
            if (blockEnd > length) {
                return -1;
            }
            while (read < blockEnd) {
                bytes[write++] = bytes[read++];
            }
            if (code != FULL_BLOCK && read < length) {
                bytes[write++] = 0;
            }
        }
        return write;
    }
}
