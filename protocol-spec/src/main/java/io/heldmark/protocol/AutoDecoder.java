package io.heldmark.protocol;

import java.util.Objects;

/**
 * Finds out from the first bytes whether a link speaks the byte-stream or the text binding, then decodes that one.
 *
 * <p><b>Method.</b> Until the decision, bytes are kept and tried on one decoder of each binding. The first well-formed
 * message of a known type, or describe of another major version, decides, and the kept bytes are then decoded for the
 * handler, so no message is lost by trying. At most {@value #CAPACITY} bytes are kept; when they run out, the older half
 * is skipped, which leaves more than the longest message. The decision holds until {@link #reset()}.
 *
 * <p><b>Errors.</b> Never throws for any input; see {@link DecoderCounters}.
 */
public final class AutoDecoder implements StreamDecoder {
    /** What a link speaks. */
    public enum Found {
        /** No well-formed message yet. */
        UNDECIDED,
        /** The byte-stream binding. */
        BYTES,
        /** The text binding. */
        TEXT
    }

    private static final int CAPACITY = 2 * Wire.MAX_MESSAGE_BYTES;
    /** A second of noise at 9600 baud, and three of the longest frames: no sender is silent for so long. */
    private static final int MANY_BYTES = 3 * Wire.MAX_STUFFED_BYTES;
    /** Text of another kind is printable; what a wrong baud rate makes of it, or of frames, is printable by a third. */
    private static final double PRINTABLE_SHARE = 0.9;

    private final DecoderCounters counters = new DecoderCounters();
    private final ByteStreamDecoder byteDecoder;
    private final TextDecoder textDecoder;
    private final byte[] kept = new byte[CAPACITY];
    private final Witness witness = new Witness();
    private ByteStreamDecoder byteProbe = new ByteStreamDecoder(witness);
    private TextDecoder textProbe = new TextDecoder(witness);
    private Found found = Found.UNDECIDED;
    private int fill;
    private long tried;
    private long printable;

    /**
     * Creates a decoder.
     *
     * @param handler receives the messages.
     */
    public AutoDecoder(MessageHandler handler) {
        byteDecoder = new ByteStreamDecoder(handler, counters);
        textDecoder = new TextDecoder(handler, counters);
    }

    /** Returns what the link speaks, as far as known. */
    public Found found() {
        return found;
    }

    /**
     * Returns whether the bytes look like those of a wrong baud rate: {@value #MANY_BYTES} of them or more since the
     * start or the last reset, no well-formed message among them, and fewer than nine in ten printable.
     */
    public boolean looksLikeWrongBaudRate() {
        return found == Found.UNDECIDED && tried >= MANY_BYTES && printable < PRINTABLE_SHARE * tried;
    }

    @Override
    public void accept(byte[] bytes, int offset, int length) {
        Objects.checkFromIndexSize(offset, length, bytes.length);
        counters.bytes += length;
        int at = offset;
        int end = offset + length;
        while (found == Found.UNDECIDED && at < end) {
            tryByte(bytes, at++);
        }
        if (found == Found.BYTES) {
            byteDecoder.decode(bytes, at, end - at);
        } else if (found == Found.TEXT) {
            textDecoder.decode(bytes, at, end - at);
        }
    }

    @Override
    public DecoderCounters counters() {
        return counters;
    }

    @Override
    public void reset() {
        counters.skippedBytes += fill;
        byteDecoder.reset();
        textDecoder.reset();
        byteProbe = new ByteStreamDecoder(witness);
        textProbe = new TextDecoder(witness);
        witness.foreignDescribe = false;
        found = Found.UNDECIDED;
        fill = 0;
        tried = 0;
        printable = 0;
    }

    private void tryByte(byte[] bytes, int at) {
        if (fill == kept.length) {
            fill = kept.length / 2;
            System.arraycopy(kept, kept.length - fill, kept, 0, fill);
            counters.skippedBytes += kept.length - fill;
        }
        byte b = bytes[at];
        kept[fill++] = b;
        tried++;
        boolean text = (b >= ' ' && b <= '~') || b == '\n' || b == '\r';
        printable += text ? 1 : 0;
        byteProbe.decode(bytes, at, 1);
        if (knows(byteProbe)) {
            decide(Found.BYTES);
            return;
        }
        textProbe.decode(bytes, at, 1);
        if (knows(textProbe)) {
            decide(Found.TEXT);
        }
    }

    private boolean knows(StreamDecoder probe) {
        DecoderCounters seen = probe.counters();
        return seen.messages > seen.unknownMessages || witness.foreignDescribe;
    }

    private void decide(Found decision) {
        found = decision;
        int length = fill;
        fill = 0;
        if (decision == Found.BYTES) {
            byteDecoder.decode(kept, 0, length);
        } else {
            textDecoder.decode(kept, 0, length);
        }
    }

    /** Listens to the probes for what their counters do not tell: a describe of another major version. */
    private static final class Witness implements MessageHandler {
        private boolean foreignDescribe;

        @Override
        public void onUnknown(int type, int length) {
            foreignDescribe |= type == Wire.DESCRIBE;
        }
    }
}
