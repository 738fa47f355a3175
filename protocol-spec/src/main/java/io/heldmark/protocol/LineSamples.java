package io.heldmark.protocol;

import java.util.Objects;

/** A samples line, reused: one sample of channels 0 up. */
final class LineSamples implements SamplesView {
    private final int[] counts = new int[Wire.MAX_CHANNELS];
    private int sequence;
    private long tick;
    private int status;
    private int channels;

    /** Reads the fields after the letter and returns whether they are well-formed. */
    boolean read(LineFields f) {
        sequence = (int) f.need().integer(0, Wire.U16_MAX);
        tick = f.need().integer(0, Wire.U32_MAX);
        status = f.need().isEmpty() ? 0 : (int) f.integer(0, 7);
        channels = 0;
        while (f.ok() && f.next()) {
            if (channels == counts.length) {
                return false;
            }
            counts[channels++] = (int) f.integer(Integer.MIN_VALUE, Integer.MAX_VALUE);
        }
        return f.ok() && channels > 0;
    }

    @Override
    public int sequence() {
        return sequence;
    }

    @Override
    public long tick() {
        return tick;
    }

    @Override
    public int sampleCount() {
        return 1;
    }

    @Override
    public int status() {
        return status;
    }

    @Override
    public int channelMask() {
        return (1 << channels) - 1;
    }

    @Override
    public int channelCount() {
        return channels;
    }

    @Override
    public int counts(int sample, int position) {
        Objects.checkIndex(sample, 1);
        return counts[Objects.checkIndex(position, channels)];
    }
}
