package io.heldmark.simulator.link;

/**
 * Several GATT values in one delivery: each with its length before it, u16 little-endian, and then the value, whose first byte
 * names the characteristic. Only virtual cells and the shells around them know this form; on a link a value is a value.
 */
public final class GattValues {
    /** Bytes before each value. */
    public static final int LENGTH_BYTES = 2;

    private GattValues() {}

    /** Takes one value. */
    @FunctionalInterface
    public interface Taker {
        /**
         * Takes it.
         *
         * @param bytes buffer; reused.
         * @param offset where the byte of the characteristic is; the value follows.
         * @param length bytes, that one included.
         */
        void take(byte[] bytes, int offset, int length);
    }

    /** Returns a copy of a value with its length before it. */
    public static byte[] framed(byte[] value, int length) {
        byte[] framed = new byte[length + LENGTH_BYTES];
        framed[0] = (byte) length;
        framed[1] = (byte) (length >> 8);
        System.arraycopy(value, 0, framed, LENGTH_BYTES, length);
        return framed;
    }

    /** Hands on the values of a delivery, one by one. */
    public static void each(byte[] delivery, int length, Taker taker) {
        int at = 0;
        while (at + LENGTH_BYTES <= length) {
            int value = (delivery[at] & 0xFF) | (delivery[at + 1] & 0xFF) << 8;
            taker.take(delivery, at + LENGTH_BYTES, value);
            at += LENGTH_BYTES + value;
        }
    }
}
