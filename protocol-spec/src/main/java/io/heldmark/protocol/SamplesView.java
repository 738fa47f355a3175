package io.heldmark.protocol;

/**
 * A samples message as it stands in the decoder's buffer: raw, untared counts of one or more channels.
 *
 * <p>Counts are interleaved: all channels of the first sample, then all channels of the second. Channel
 * <em>positions</em> run over the bits that are set in {@link #channelMask()}, lowest first. Reused by the decoder; valid
 * during the call that hands it over.
 */
public interface SamplesView {
    /** Status bit: a converter reached the end of its range in this frame. */
    int STATUS_OVERLOAD = 1;

    /** Status bit: a converter did not answer or failed its own check in this frame. */
    int STATUS_ADC_FAULT = 2;

    /** Status bit: the device lost samples between the frame before and this one. */
    int STATUS_DEVICE_LOSS = 4;

    /** Returns the frame's number, 0 to 65535, one more than that of the frame before. */
    int sequence();

    /** Returns the device tick of the first sample, unsigned 32 bit. */
    long tick();

    /** Returns the number of samples per channel, at least 1. */
    int sampleCount();

    /** Returns the status bits of this frame. */
    int status();

    /** Returns the set of channels in this frame, bit 0 for channel 0. */
    int channelMask();

    /** Returns the number of channels in this frame, at least 1. */
    int channelCount();

    /**
     * Returns one count.
     *
     * @param sample index of the sample, 0 to {@link #sampleCount()} - 1.
     * @param position position among the channels of this frame, 0 to {@link #channelCount()} - 1.
     */
    int counts(int sample, int position);

    /**
     * Copies all counts, interleaved as they stand in the message.
     *
     * @param into takes {@link #sampleCount()} times {@link #channelCount()} counts from index 0.
     */
    default void copyCounts(int[] into) {
        int at = 0;
        for (int sample = 0; sample < sampleCount(); sample++) {
            for (int position = 0; position < channelCount(); position++) {
                into[at++] = counts(sample, position);
            }
        }
    }
}
