package io.heldmark.protocol;

/**
 * A stuffed frame of at most {@value #MAX_STUFFED_BYTES} bytes, unstuffed and checked in one walk: nearly every frame of a
 * device.
 *
 * <p><b>Method.</b> As {@link Cobs#decode} and {@link Crc16#of}. But the marks are gathered as bits first, and what they
 * stand in is cleared in whole words on their way into the check: words that are read back where single zeros have just
 * been written wait until those zeros have left the processor's queue.
 */
final class ShortFrame {
    /** Longest stuffed frame: one bit of a word for each byte. */
    static final int MAX_STUFFED_BYTES = Long.SIZE;

    /** Shortest stuffed frame: 16 bytes to check, mark and check. */
    static final int MIN_STUFFED_BYTES = 16 + Cobs.DECODED_FROM + Short.BYTES;

    /** What to keep of eight bytes, by the bits of those that are marks. */
    private static final long[] KEPT = kept();

    private ShortFrame() {}

    /**
     * Unstuffs a frame and returns whether it is whole and its CRC right; the target is of no use where it is not.
     *
     * @param in holds the stuffed bytes, none of them zero.
     * @param from index of the first of them.
     * @param length their number, {@value #MIN_STUFFED_BYTES} to {@value #MAX_STUFFED_BYTES}.
     * @param out takes the bytes but the CRC, from index {@link Cobs#DECODED_FROM}; as long as {@code length}.
     */
    static boolean decode(byte[] in, int from, int length, byte[] out) {
        long marks = marks(in, from, length);
        if (marks == 0) {
            return false;
        }
        int checkAt = length - Short.BYTES;
        int odd = (checkAt - Cobs.DECODED_FROM) & (Long.BYTES - 1);
        long before = 0;
        int at = Cobs.DECODED_FROM;
        if (odd != 0) {
            long word = LittleEndian.i64(in, from + at) & KEPT[(int) (marks >>> at) & 0xFF];
            LittleEndian.put64(out, at, word);
            before = (word ^ Crc16.INITIAL) << (Long.SIZE - Byte.SIZE * odd);
        }
        at += odd;
        long last = LittleEndian.i64(in, from + at) & KEPT[(int) (marks >>> at) & 0xFF];
        LittleEndian.put64(out, at, last);
        last ^= Crc16.INITIAL >>> (Byte.SIZE * odd);
        for (at += Long.BYTES; at < checkAt; at += Long.BYTES) {
            long word = LittleEndian.i64(in, from + at) & KEPT[(int) (marks >>> at) & 0xFF];
            LittleEndian.put64(out, at, word);
            long folded = before ^ (before << 32);
            before = last ^ (folded << 24) ^ (folded >>> 32);
            last = word ^ folded ^ (folded >>> 40);
        }
        int low = (marks >>> checkAt & 1) != 0 ? 0 : in[from + checkAt] & 0xFF;
        int high = (marks >>> (checkAt + 1) & 1) != 0 ? 0 : in[from + checkAt + 1] & 0xFF;
        return Crc16.ofLast(before, last) == (high << 8 | low);
    }

    /** Returns the bits of the marks; none where a block reaches past the end. */
    private static long marks(byte[] in, int from, int length) {
        long marks = 0;
        int at = 0;
        while (at < length) {
            marks |= 1L << at;
            at += in[from + at] & 0xFF;
        }
        return at == length ? marks : 0;
    }

    private static long[] kept() {
        long[] table = new long[256];
        for (int marks = 0; marks < table.length; marks++) {
            for (int i = 0; i < Long.BYTES; i++) {
                table[marks] |= (marks >>> i & 1) != 0 ? 0 : 0xFFL << (Byte.SIZE * i);
            }
        }
        return table;
    }
}
