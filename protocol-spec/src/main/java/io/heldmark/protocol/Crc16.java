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
    private static final char[] TABLE = table();

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
        for (int i = offset; i < offset + length; i++) {
            crc = ((crc << 8) ^ TABLE[((crc >> 8) ^ bytes[i]) & 0xFF]) & 0xFFFF;
        }
        return crc;
    }

    private static char[] table() {
        char[] table = new char[256];
        for (int value = 0; value < table.length; value++) {
            int crc = value << 8;
            for (int bit = 0; bit < 8; bit++) {
                crc = (crc & 0x8000) != 0 ? (crc << 1) ^ POLYNOMIAL : crc << 1;
            }
            table[value] = (char) crc;
        }
        return table;
    }
}
