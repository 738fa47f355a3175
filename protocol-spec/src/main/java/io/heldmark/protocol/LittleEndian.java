package io.heldmark.protocol;

import java.lang.invoke.MethodHandles;
import java.lang.invoke.VarHandle;
import java.nio.ByteOrder;

/**
 * Little-endian integers and binary32 in byte arrays. The caller guarantees that the bytes are there.
 *
 * <p>Words are read at once and not byte by byte: that is most of what reading a frame costs.
 */
final class LittleEndian {
    private static final VarHandle SHORT = MethodHandles.byteArrayViewVarHandle(short[].class, ByteOrder.LITTLE_ENDIAN);
    private static final VarHandle INT = MethodHandles.byteArrayViewVarHandle(int[].class, ByteOrder.LITTLE_ENDIAN);
    private static final VarHandle LONG = MethodHandles.byteArrayViewVarHandle(long[].class, ByteOrder.LITTLE_ENDIAN);

    private LittleEndian() {}

    static int u8(byte[] b, int at) {
        return b[at] & 0xFF;
    }

    static int u16(byte[] b, int at) {
        return (short) SHORT.get(b, at) & 0xFFFF;
    }

    static int i24(byte[] b, int at) {
        return u16(b, at) | (b[at + 2] << 16); // The top byte keeps its sign.
    }

    static int i32(byte[] b, int at) {
        return (int) INT.get(b, at);
    }

    static long i64(byte[] b, int at) {
        return (long) LONG.get(b, at);
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

    static void put64(byte[] b, int at, long value) {
        LONG.set(b, at, value);
    }

    static void putF32(byte[] b, int at, float value) {
        put32(b, at, Float.floatToIntBits(value)); // One bit pattern for every NaN.
    }
}
