package io.heldmark.decode;

/**
 * One samples message with its place in the device's stream; reused, valid during the call that hands it over.
 *
 * <p>Counts are interleaved as in the message: all channels of the first sample, then all of the second. Channel
 * positions run over the bits set in {@link #channelMask}, lowest first.
 */
public final class DecodedFrame {
    private static final int[] NONE = {};

    /** Arrival of the chunk that completed the message, station time. */
    public long arrivalNs;
    /** Device tick of the first sample, unwrapped: only falls where {@link #clockRestarted} is set. */
    public long firstTick;
    /** Device ticks between two samples, as measured on this device. */
    public double ticksPerSample;
    /** Running number of the first sample since the link came up, lost samples counted. */
    public long firstSampleIndex;
    /** Samples missing right before this frame; 0 for none, -1 where their number is not known. */
    public long missingBefore;
    /** Samples per channel. */
    public int sampleCount;
    /** Set of channels, bit 0 for channel 0. */
    public int channelMask;
    /** Number of channels. */
    public int channelCount;
    /** Status bits of the message. */
    public int status;
    /** The device's tick counter began anew or was stepped: ticks before and after are not comparable. */
    public boolean clockRestarted;
    /** The counts, where the decoder keeps them. */
    public int[] counts = NONE;

    /** Returns one count. */
    public int counts(int sample, int position) {
        return counts[sample * channelCount + position];
    }
}
