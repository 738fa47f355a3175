package io.heldmark.protocol;

/** Reads a samples payload. Layout: specification, section "samples". */
final class BinarySamples {
    private BinarySamples() {}

    /** Reads a payload and returns whether it is well-formed; the view is of no use where it is not. */
    static boolean read(byte[] payload, int at, int length, SamplesView into) {
        if (length < Wire.SAMPLES_HEADER_BYTES) {
            return false;
        }
        int statusAndCount = LittleEndian.u8(payload, at + 6);
        int samples = statusAndCount & Wire.MAX_SAMPLES;
        into.set(
                LittleEndian.u16(payload, at),
                LittleEndian.u32(payload, at + 2),
                statusAndCount >> 5,
                LittleEndian.u8(payload, at + 7),
                samples);
        int total = samples * into.channelCount();
        int body = length - Wire.SAMPLES_HEADER_BYTES;
        int bytesPerCount = body == 3 * total ? 3 : 4;
        if (total == 0 || body != bytesPerCount * total) {
            return false;
        }
        if (bytesPerCount == 3) {
            read24(payload, at + Wire.SAMPLES_HEADER_BYTES, total, into.counts());
        } else {
            read32(payload, at + Wire.SAMPLES_HEADER_BYTES, total, into.counts());
        }
        return true;
    }

    /** Takes four bytes at once and shifts the highest out: all but the last count have one more byte behind them. */
    private static void read24(byte[] from, int first, int total, int[] into) {
        int at = first;
        int last = total - 1;
        for (int i = 0; i < last; i++, at += 3) {
            into[i] = LittleEndian.i32(from, at) << 8 >> 8;
        }
        into[last] = LittleEndian.i24(from, at);
    }

    private static void read32(byte[] from, int first, int total, int[] into) {
        for (int i = 0; i < total; i++) {
            into[i] = LittleEndian.i32(from, first + 4 * i);
        }
    }
}
