package io.heldmark.protocol;

import java.util.Objects;

/** A samples payload where it lies in a buffer; reused. Layout: specification, section "samples". */
final class BinarySamples implements SamplesView {
    private byte[] bytes = new byte[0];
    private int offset;
    private int sampleCount;
    private int channelCount;
    private int bytesPerCount;

    /** Looks at a payload and returns whether it is well-formed. */
    boolean wrap(byte[] payload, int payloadOffset, int length) {
        if (length < Wire.SAMPLES_HEADER_BYTES) {
            return false;
        }
        bytes = payload;
        offset = payloadOffset;
        sampleCount = LittleEndian.u8(payload, payloadOffset + 6) & Wire.MAX_SAMPLES;
        channelCount = Integer.bitCount(channelMask());
        int counts = sampleCount * channelCount;
        int body = length - Wire.SAMPLES_HEADER_BYTES;
        bytesPerCount = body == 3 * counts ? 3 : 4;
        return counts > 0 && body == bytesPerCount * counts;
    }

    @Override
    public int sequence() {
        return LittleEndian.u16(bytes, offset);
    }

    @Override
    public long tick() {
        return LittleEndian.u32(bytes, offset + 2);
    }

    @Override
    public int sampleCount() {
        return sampleCount;
    }

    @Override
    public int status() {
        return LittleEndian.u8(bytes, offset + 6) >> 5;
    }

    @Override
    public int channelMask() {
        return LittleEndian.u8(bytes, offset + 7);
    }

    @Override
    public int channelCount() {
        return channelCount;
    }

    @Override
    public void copyCounts(int[] into) {
        int total = sampleCount * channelCount;
        int at = offset + Wire.SAMPLES_HEADER_BYTES;
        byte[] from = bytes;
        if (bytesPerCount == 3) {
            for (int i = 0; i < total; i++, at += 3) {
                into[i] = (from[at] & 0xFF) | ((from[at + 1] & 0xFF) << 8) | (from[at + 2] << 16);
            }
        } else {
            for (int i = 0; i < total; i++, at += 4) {
                into[i] = LittleEndian.i32(from, at);
            }
        }
    }

    @Override
    public int counts(int sample, int position) {
        Objects.checkIndex(sample, sampleCount);
        Objects.checkIndex(position, channelCount);
        int at = offset + Wire.SAMPLES_HEADER_BYTES + (sample * channelCount + position) * bytesPerCount;
        return bytesPerCount == 3 ? LittleEndian.i24(bytes, at) : LittleEndian.i32(bytes, at);
    }
}
