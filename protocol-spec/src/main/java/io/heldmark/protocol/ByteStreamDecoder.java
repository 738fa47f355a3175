package io.heldmark.protocol;

import java.util.Objects;

/**
 * Decodes the byte-stream binding: stuffed frames with a CRC, ended by 0x00.
 *
 * <p><b>Method.</b> Bytes are collected until a 0x00, unstuffed in place, checked, and read. A frame that is too long is
 * skipped up to its delimiter, so garbage costs at most the frame it runs into. Memory is one frame.
 *
 * <p><b>Errors.</b> Never throws for any input; see {@link DecoderCounters}.
 *
 * <p><b>Source.</b> {@code protocol-spec/gaugeline-v1.md}, section "Byte-stream binding".
 */
public final class ByteStreamDecoder implements StreamDecoder {
    private static final int CHECK_BYTES = 2;

    private final Inbox inbox;
    private final DecoderCounters counters;
    private final PayloadReader reader;
    private final byte[] frame = new byte[Wire.MAX_STUFFED_BYTES];
    private int fill;
    private boolean skipping;

    /**
     * Creates a decoder.
     *
     * @param handler receives the messages.
     */
    public ByteStreamDecoder(MessageHandler handler) {
        this(handler, new DecoderCounters());
    }

    ByteStreamDecoder(MessageHandler handler, DecoderCounters counters) {
        this.counters = counters;
        inbox = new Inbox(handler, counters);
        reader = new PayloadReader(inbox);
    }

    @Override
    public void accept(byte[] bytes, int offset, int length) {
        Objects.checkFromIndexSize(offset, length, bytes.length);
        counters.bytes += length;
        decode(bytes, offset, length);
    }

    /** As {@link #accept}, for bytes that are counted already. */
    void decode(byte[] bytes, int offset, int length) {
        for (int i = offset; i < offset + length; i++) {
            if (bytes[i] == 0) {
                endFrame();
            } else if (skipping) {
                counters.skippedBytes++;
            } else if (fill < frame.length) {
                frame[fill++] = bytes[i];
            } else {
                counters.oversized++;
                counters.skippedBytes += fill + 1;
                fill = 0;
                skipping = true;
            }
        }
    }

    @Override
    public DecoderCounters counters() {
        return counters;
    }

    @Override
    public void reset() {
        counters.skippedBytes += fill;
        fill = 0;
        skipping = false;
        inbox.reset();
    }

    private void endFrame() {
        int stuffed = fill;
        fill = 0;
        if (skipping) {
            skipping = false;
            counters.skippedBytes++;
        } else if (stuffed == 0) {
            counters.idleBytes++;
        } else if (useFrame(Cobs.decode(frame, stuffed))) {
            counters.messageBytes += stuffed + 1;
        } else {
            counters.skippedBytes += stuffed + 1;
        }
    }

    private boolean useFrame(int length) {
        if (length > Wire.MAX_FRAME_BYTES) {
            counters.oversized++;
            return false;
        }
        int checked = length - CHECK_BYTES;
        if (checked < 1 || Crc16.of(frame, 0, checked) != LittleEndian.u16(frame, checked)) {
            counters.crcFailures++;
            return false;
        }
        boolean wellFormed = reader.read(LittleEndian.u8(frame, 0), frame, 1, checked - 1);
        counters.malformed += wellFormed ? 0 : 1;
        return wellFormed;
    }
}
