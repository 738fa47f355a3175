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
    /** Bytes taken at once. */
    private static final int SLICE = 8;

    /**
     * CRC of a byte that k zero bytes follow, at index k * 256 + byte; its two bytes swapped, so that the register lies as
     * the next two bytes do in a little-endian word and one exclusive-or brings them together.
     */
    private static final char[] SLICES = slices();

    private Crc16() {}

    /**
     * Returns the CRC of a span of bytes, 0 to 0xFFFF.
     *
     * @param bytes array that holds the span.
     * @param offset index of the first byte.
     * @param length number of bytes.
     */
    public static int of(byte[] bytes, int offset, int length) {
        int crc = 0xFFFF;
        int end = offset + length;
        int i = offset;
        for (; i <= end - SLICE; i += SLICE) {
            long word = LittleEndian.i64(bytes, i) ^ crc;
            int low = (int) word;
            int high = (int) (word >>> 32);
            crc = SLICES[(7 << 8) | (low & 0xFF)]
                    ^ SLICES[(6 << 8) | ((low >>> 8) & 0xFF)]
                    ^ SLICES[(5 << 8) | ((low >>> 16) & 0xFF)]
                    ^ SLICES[(4 << 8) | (low >>> 24)]
                    ^ SLICES[(3 << 8) | (high & 0xFF)]
                    ^ SLICES[(2 << 8) | ((high >>> 8) & 0xFF)]
                    ^ SLICES[(1 << 8) | ((high >>> 16) & 0xFF)]
                    ^ SLICES[high >>> 24];
        }
        for (; i < end; i++) {
            crc = (crc >>> 8) ^ SLICES[(crc ^ bytes[i]) & 0xFF];
        }
        return swapped(crc);
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
