package io.heldmark.protocol;

/**
 * CRC-16/CCITT-FALSE, which the CRC catalogue lists as CRC-16/IBM-3740: polynomial 0x1021, initial value 0xFFFF, bits
 * not reflected, no final exclusive-or. The check value of the nine bytes {@code "123456789"} is 0x29B1.
 *
 * <p><b>Source.</b> Greg Cook, Catalogue of parametrised CRC algorithms,
 * <a href="https://reveng.sourceforge.io/crc-catalogue/16.htm">CRC-16/IBM-3740</a>.
 */
public final class Crc16 {
    private static final int POLYNOMIAL = 0x1021;
    /** The register at the beginning, as it lies in a little-endian word. */
    static final long INITIAL = 0xFFFF;
    /** Bytes that are looked up at once. */
    private static final int SLICE = 16;

    /**
     * CRC of a byte that k zero bytes follow, at index k * 256 + byte; its two bytes swapped, so that the register lies as
     * the next two bytes do in a little-endian word and one exclusive-or brings them together.
     */
    private static final char[] SLICES = slices();

    private Crc16() {}

    /**
     * Returns the CRC of a span of bytes, 0 to 0xFFFF.
     *
     * <p><b>Method.</b> The initial value is an exclusive-or with the first two bytes; zeros before a message change nothing
     * then, so that what fills no word is taken first. Squaring the polynomial three times gives
     * x^128 = x^96 + x^40 + 1 modulo it: a word moves 16 bytes on by exclusive-ors of itself, shifted by whole bytes, which
     * wait for no table. (Of x^96 four bytes stay where the word was and move on with it.) The last 16 bytes are looked up,
     * none of them waiting for another.
     *
     * @param bytes array that holds the span.
     * @param offset index of the first byte.
     * @param length number of bytes.
     */
    public static int of(byte[] bytes, int offset, int length) {
        if (length < SLICE) {
            return ofFew(bytes, offset, length);
        }
        int odd = length & (Long.BYTES - 1);
        long before = odd == 0 ? 0 : (LittleEndian.i64(bytes, offset) ^ INITIAL) << (Long.SIZE - Byte.SIZE * odd);
        long last = LittleEndian.i64(bytes, offset + odd) ^ (INITIAL >>> (Byte.SIZE * odd));
        int end = offset + length;
        for (int at = offset + odd + Long.BYTES; at < end; at += Long.BYTES) {
            long folded = before ^ (before << 32);
            before = last ^ (folded << 24) ^ (folded >>> 32);
            last = LittleEndian.i64(bytes, at) ^ folded ^ (folded >>> 40);
        }
        return ofLast(before, last);
    }

    /** Returns the CRC of 16 bytes whose first two hold the initial value already. */
    static int ofLast(long before, long last) {
        return swapped(looked(before, 8) ^ looked(last, 0));
    }

    private static int ofFew(byte[] bytes, int offset, int length) {
        int crc = (int) INITIAL;
        for (int i = offset; i < offset + length; i++) {
            crc = (crc >>> 8) ^ SLICES[(crc ^ bytes[i]) & 0xFF];
        }
        return swapped(crc);
    }

    /** Looks eight bytes up that some more follow; sums and not ors, of whose range a compiler knows nothing. */
    private static int looked(long word, int following) {
        int low = (int) word;
        int high = (int) (word >>> 32);
        int table = following << 8;
        return SLICES[table + (7 << 8) + (low & 0xFF)]
                ^ SLICES[table + (6 << 8) + ((low >>> 8) & 0xFF)]
                ^ SLICES[table + (5 << 8) + ((low >>> 16) & 0xFF)]
                ^ SLICES[table + (4 << 8) + (low >>> 24)]
                ^ SLICES[table + (3 << 8) + (high & 0xFF)]
                ^ SLICES[table + (2 << 8) + ((high >>> 8) & 0xFF)]
                ^ SLICES[table + (1 << 8) + ((high >>> 16) & 0xFF)]
                ^ SLICES[table + (high >>> 24)];
    }

    private static char[] slices() {
        char[] table = new char[SLICE << 8];
        for (int value = 0; value < 256; value++) {
            int crc = value << 8;
            for (int bit = 0; bit < 8; bit++) {
                crc = (crc & 0x8000) != 0 ? (crc << 1) ^ POLYNOMIAL : crc << 1;
            }
            table[value] = (char) swapped(crc);
        }
        for (int index = 256; index < table.length; index++) {
            int before = table[index - 256];
            table[index] = (char) ((before >>> 8) ^ table[before & 0xFF]);
        }
        return table;
    }

    private static int swapped(int crc) {
        return ((crc & 0xFF) << 8) | ((crc >>> 8) & 0xFF);
    }
}
