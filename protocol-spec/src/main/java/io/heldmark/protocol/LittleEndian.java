package io.heldmark.protocol;

/** Little-endian integers and binary32 in byte arrays. The caller guarantees that the bytes are there. */
final class LittleEndian {
    private LittleEndian() {}

    static int u8(byte[] b, int at) {
        return b[at] & 0xFF;
    }

    static int u16(byte[] b, int at) {
        return u8(b, at) | (u8(b, at + 1) << 8);
    }

    static int i24(byte[] b, int at) {
        return u16(b, at) | (b[at + 2] << 16); // The top byte keeps its sign.
    }

    static int i32(byte[] b, int at) {
        return u16(b, at) | (u16(b, at + 2) << 16);
    }

    static long u32(byte[] b, int at) {
        return i32(b, at) & Wire.U32_MAX;
    }

    static float f32(byte[] b, int at) {
        return Float.intBitsToFloat(i32(b, at));
    }

    static void put8(byte[] b, int at, int value) {
        b[at] = (byte) value;
    }

    static void put16(byte[] b, int at, int value) {
        b[at] = (byte) value;
        b[at + 1] = (byte) (value >> 8);
    }

    static void put24(byte[] b, int at, int value) {
        put16(b, at, value);
        b[at + 2] = (byte) (value >> 16);
    }

    static void put32(byte[] b, int at, long value) {
        put16(b, at, (int) value);
        put16(b, at + 2, (int) (value >> 16));
    }

    static void putF32(byte[] b, int at, float value) {
        put32(b, at, Float.floatToIntBits(value)); // One bit pattern for every NaN.
    }
}
