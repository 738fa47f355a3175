package io.heldmark.protocol;

/**
 * Turns bytes of one direction of one link into messages.
 *
 * <p>Bytes may be cut anywhere. Whatever arrives, a decoder never throws and never stops: it counts what it could not
 * use in {@link #counters()} and goes on with the next frame. Nothing is allocated per samples message. Not thread-safe:
 * one thread feeds it.
 */
public interface StreamDecoder {
    /**
     * Takes the next bytes and calls the handler for every message that they complete.
     *
     * @param bytes buffer that holds the bytes; not kept.
     * @param offset index of the first byte.
     * @param length number of bytes.
     */
    void accept(byte[] bytes, int offset, int length);

    /** Returns the counters; they live as long as the decoder and are updated in place. */
    DecoderCounters counters();

    /**
     * Forgets a half-received frame, whose bytes are counted as skipped, and the last sequence number, as after a
     * reconnect; counters stay.
     */
    void reset();
}
