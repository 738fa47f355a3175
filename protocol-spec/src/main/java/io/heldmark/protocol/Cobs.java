package io.heldmark.protocol;

/**
 * Consistent overhead byte stuffing: bytes without 0x00, one byte longer per 254 begun. Delimiters are the caller's.
 *
 * <p><b>Source.</b> S. Cheshire, M. Baker, "Consistent Overhead Byte Stuffing", IEEE/ACM Transactions on Networking
 * 7(2), 1999, 159-172, <a href="https://doi.org/10.1109/90.769765">doi:10.1109/90.769765</a>.
 */
final class Cobs {
    /** Index of the first byte after {@link #decode}. */
    static final int DECODED_FROM = 1;

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
     * Removes the stuffing in place and returns the length, or -1 where a block reaches past the end; the bytes are of no
     * use then. They begin at index {@value #DECODED_FROM}, because so no byte moves up to the first full block: every mark
     * but the first becomes the zero that it stands for.
     *
     * @param bytes stuffed bytes from index 0, none of them zero.
     * @param length number of stuffed bytes, at least 1.
     */
    static int decode(byte[] bytes, int length) {
        int at = 0;
        int code = bytes[0] & 0xFF;
        while (code != FULL_BLOCK && at + code < length) {
            at += code;
            code = bytes[at] & 0xFF;
            bytes[at] = 0;
        }
        if (code == FULL_BLOCK) {
            return decodeFrom(bytes, at, length);
        }
        return at + code == length ? length - DECODED_FROM : -1;
    }

    /** Goes on at a full block, whose mark is gone: behind it no zero is meant, so that what follows moves up. */
    private static int decodeFrom(byte[] bytes, int blockAt, int length) {
        int code = FULL_BLOCK;
        int read = blockAt + 1;
        int write = read;
        while (read + code - 1 <= length) {
            System.arraycopy(bytes, read, bytes, write, code - 1);
            read += code - 1;
            write += code - 1;
            if (read == length) {
                return write - DECODED_FROM;
            }
            if (code != FULL_BLOCK) {
                bytes[write++] = 0;
            }
            code = bytes[read++] & 0xFF;
        }
        return -1;
    }
}
