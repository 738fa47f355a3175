package io.heldmark.protocol;

import java.util.Objects;

/**
 * A samples message as a decoder read it: raw, untared counts of one or more channels.
 *
 * <p>Counts are interleaved: all channels of the first sample, then all channels of the second. Channel
 * <em>positions</em> run over the bits that are set in {@link #channelMask()}, lowest first. Reused by the decoder; valid
 * during the call that hands it over.
 *
 * <p>A class and not an interface, so that asking for a field is no call, whatever compiles it: there is one for every
 * message of every link.
 */
public final class SamplesView {
    /** Status bit: a converter reached the end of its range in this frame. */
    public static final int STATUS_OVERLOAD = 1;

    /** Status bit: a converter did not answer or failed its own check in this frame. */
    public static final int STATUS_ADC_FAULT = 2;

    /** Status bit: the device lost samples between the frame before and this one. */
    public static final int STATUS_DEVICE_LOSS = 4;

    /** Most counts of one message. */
    public static final int MAX_COUNTS = Wire.MAX_SAMPLES * Wire.MAX_CHANNELS;

    private final int[] counts = new int[MAX_COUNTS];
    private int sequence;
    private long tick;
    private int sampleCount;
    private int status;
    private int channelMask;
    private int channelCount;

    /**
     * Sets everything but the counts; for decoders.
     *
     * @param sequenceNumber 0 to 65535.
     * @param firstTick device tick of the first sample, unsigned 32 bit.
     * @param statusBits status bits.
     * @param mask set of channels, bit 0 for channel 0, at most 8.
     * @param samples samples per channel, at most 31.
     */
    public void set(int sequenceNumber, long firstTick, int statusBits, int mask, int samples) {
        sequence = sequenceNumber;
        tick = firstTick;
        status = statusBits;
        channelMask = mask;
        channelCount = Integer.bitCount(mask);
        sampleCount = samples;
    }

    /** Returns the frame's number, 0 to 65535, one more than that of the frame before. */
    public int sequence() {
        return sequence;
    }

    /** Returns the device tick of the first sample, unsigned 32 bit. */
    public long tick() {
        return tick;
    }

    /** Returns the number of samples per channel, at least 1. */
    public int sampleCount() {
        return sampleCount;
    }

    /** Returns the status bits of this frame. */
    public int status() {
        return status;
    }

    /** Returns the set of channels in this frame, bit 0 for channel 0. */
    public int channelMask() {
        return channelMask;
    }

    /** Returns the number of channels in this frame, at least 1. */
    public int channelCount() {
        return channelCount;
    }

    /**
     * Returns all counts, interleaved as they stand in the message: {@link #sampleCount()} times {@link #channelCount()}
     * from index 0, and what is left of others behind them. The array itself, reused with the view; decoders fill it.
     */
    public int[] counts() {
        return counts;
    }

    /**
     * Returns one count.
     *
     * @param sample index of the sample, 0 to {@link #sampleCount()} - 1.
     * @param position position among the channels of this frame, 0 to {@link #channelCount()} - 1.
     */
    public int counts(int sample, int position) {
        Objects.checkIndex(sample, sampleCount);
        Objects.checkIndex(position, channelCount);
        return counts[sample * channelCount + position];
    }
}
