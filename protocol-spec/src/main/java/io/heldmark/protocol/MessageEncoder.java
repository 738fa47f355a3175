package io.heldmark.protocol;

/**
 * Writes messages in one binding, each in its complete wire form, framing included.
 *
 * <p>Every method returns the number of bytes written from {@code out[outOffset]}; {@link Wire#MAX_MESSAGE_BYTES} of room
 * always suffice. A value that the specification does not allow throws {@link IllegalArgumentException} that names it and
 * writes nothing usable. Nothing is allocated per samples message. Not thread-safe.
 */
public interface MessageEncoder {
    /**
     * Writes a samples message.
     *
     * @param sequence frame number, 0 to 65535.
     * @param tick device tick of the first sample, 0 to 2^32 - 1.
     * @param status set of {@code SamplesView.STATUS_…} bits.
     * @param channelMask set of channels, bit 0 for channel 0, 1 to 255.
     * @param sampleCount samples per channel, 1 to 31.
     * @param interleavedCounts counts: all channels of the first sample, lowest first, then all of the second.
     * @param countsOffset index of the first count.
     * @param bytesPerCount 3 or 4; text has no width and ignores it.
     * @param out where to write.
     * @param outOffset index of the first byte to write.
     */
    int samples(
            int sequence,
            long tick,
            int status,
            int channelMask,
            int sampleCount,
            int[] interleavedCounts,
            int countsOffset,
            int bytesPerCount,
            byte[] out,
            int outOffset);

    /** Writes what a device says of itself. */
    int describe(Describe describe, byte[] out, int outOffset);

    /** Writes a health report. */
    int status(Status status, byte[] out, int outOffset);

    /** Writes a command. */
    int command(Command command, byte[] out, int outOffset);

    /** Writes the answer to a command. */
    int reply(Reply reply, byte[] out, int outOffset);

    /**
     * Writes a ping.
     *
     * @param pingId number returned in the pong, 0 to 65535.
     */
    int ping(int pingId, byte[] out, int outOffset);

    /**
     * Writes a pong.
     *
     * @param pingId number of the ping, 0 to 65535.
     * @param receivedTick device tick at which the ping arrived, 0 to 2^32 - 1.
     * @param transmittedTick device tick at which the pong is handed to the link, 0 to 2^32 - 1.
     */
    int pong(int pingId, long receivedTick, long transmittedTick, byte[] out, int outOffset);
}
