package io.heldmark.conform;

import io.heldmark.link.Link.Binding;
import java.util.Arrays;

/**
 * Cuts what arrives into single frames, lines or values, so that each can be judged and shown by itself.
 *
 * <p>A frame ends with 0x00, a line with LF, delimiter included; a value is a chunk. Without a delimiter bytes are handed on
 * when {@value #MOST_BYTES} have come, and the rest up to the delimiter after them.
 */
final class FrameSplitter {
    /** Longer than any frame or line may be. */
    private static final int MOST_BYTES = 2048;

    private final Binding binding;
    private final Taker taker;
    private final byte[] kept = new byte[MOST_BYTES];
    private int fill;

    /** Takes one frame, line or value. */
    @FunctionalInterface
    interface Taker {
        /**
         * Takes it.
         *
         * @param bytes buffer; reused.
         * @param length how many bytes, from index 0.
         * @param arrivalNs when its last byte arrived.
         */
        void take(byte[] bytes, int length, long arrivalNs);
    }

    FrameSplitter(Binding binding, Taker taker) {
        this.binding = binding;
        this.taker = taker;
    }

    /** Takes a chunk. */
    void accept(byte[] bytes, int offset, int length, long arrivalNs) {
        if (binding == Binding.GATT) {
            taker.take(Arrays.copyOfRange(bytes, offset, offset + length), length, arrivalNs);
            return;
        }
        byte delimiter = (byte) (binding == Binding.TEXT ? '\n' : 0);
        for (int i = offset; i < offset + length; i++) {
            kept[fill++] = bytes[i];
            if (bytes[i] == delimiter || fill == MOST_BYTES) {
                int whole = fill;
                fill = 0;
                taker.take(kept, whole, arrivalNs);
            }
        }
    }

    /** Forgets a half-received frame. */
    void reset() {
        fill = 0;
    }
}
