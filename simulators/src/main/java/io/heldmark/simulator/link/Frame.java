package io.heldmark.simulator.link;

import org.jspecify.annotations.Nullable;

/** A message in its wire form on its way to the reader. */
public final class Frame {
    /** The bytes; owned by the frame. */
    final byte[] bytes;
    /** When the device handed it to the link, true time in nanoseconds. */
    final long handoverNs;
    /** Its number among all messages of the device, so that equal times have an order. */
    final long number;
    /** What it carries; null where it carries no samples. */
    final @Nullable Samples samples;
    /** How many of its bytes have been delivered; serial links only. */
    int delivered;
    /** When its first byte went onto the wire, in nanoseconds; serial links only, known once bytes were delivered. */
    long wireStartNs;

    /**
     * What a samples message carries.
     *
     * @param sequence its sequence number.
     * @param fromS true time of its first sample, in seconds.
     * @param toS true time of its last sample and one sample period, in seconds.
     * @param count samples of each channel.
     */
    public record Samples(int sequence, double fromS, double toS, int count) {}

    /**
     * Makes a frame.
     *
     * @param bytes its bytes; not copied.
     * @param handoverNs when the device hands it over, in nanoseconds.
     * @param number its number among all messages.
     * @param samples what it carries; null where it carries no samples.
     */
    public Frame(byte[] bytes, long handoverNs, long number, @Nullable Samples samples) {
        this.bytes = bytes;
        this.handoverNs = handoverNs;
        this.number = number;
        this.samples = samples;
    }

    /** Returns when the device handed it over, in nanoseconds. */
    public long handoverNs() {
        return handoverNs;
    }

    /** Returns what it carries; null where it carries no samples. */
    public @Nullable Samples samples() {
        return samples;
    }

    /** Returns how many bytes it has. */
    public int length() {
        return bytes.length;
    }

    /** Returns a copy of its bytes. */
    public byte[] copyOfBytes() {
        return bytes.clone();
    }

    /** Returns this frame with other bytes. */
    public Frame withBytes(byte[] other) {
        return new Frame(other, handoverNs, number, samples);
    }

    /** Returns this frame with bytes before its own. */
    public Frame withPrefix(byte[] prefix) {
        byte[] both = new byte[prefix.length + bytes.length];
        System.arraycopy(prefix, 0, both, 0, prefix.length);
        System.arraycopy(bytes, 0, both, prefix.length, bytes.length);
        return withBytes(both);
    }

    /** Returns this frame a second time. */
    public Frame copy() {
        return withBytes(bytes);
    }

    /** Returns this frame, handed over at another time. */
    public Frame handedOverAt(long otherNs) {
        return new Frame(bytes, otherNs, number, samples);
    }
}
