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
    private static final long LOWEST_BITS = 0x0101_0101_0101_0101L;
    private static final long HIGHEST_BITS = 0x8080_8080_8080_8080L;

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
        int end = offset + length;
        int at = offset;
        while (at < end) {
            int stop = zeroOrEnd(bytes, at, end);
            if (stop >= end || !useShortFrame(bytes, at, stop - at)) {
                takeRun(bytes, at, stop - at);
                if (stop < end) {
                    endFrame();
                }
            }
            at = stop + 1;
        }
    }

    /**
     * Uses a short frame that lies whole and right in the bytes that came; returns false where nothing was done: the slower
     * way is for all others and knows what to count.
     */
    private boolean useShortFrame(byte[] bytes, int from, int stuffed) {
        boolean fits = stuffed >= ShortFrame.MIN_STUFFED_BYTES && stuffed <= ShortFrame.MAX_STUFFED_BYTES;
        if (fill != 0 || skipping || !fits || !ShortFrame.decode(bytes, from, stuffed, frame)) {
            return false;
        }
        count(readFrame(stuffed - Cobs.DECODED_FROM), stuffed + 1);
        return true;
    }

    private void count(boolean wellFormed, int length) {
        counters.messageBytes += wellFormed ? length : 0;
        counters.skippedBytes += wellFormed ? 0 : length;
    }

    /**
     * Returns the index of the first zero byte, or the end. Eight bytes are looked at together: a byte of
     * {@code (w - 0x01..01) & ~w & 0x80..80} is set where one of w is zero, the lowest one surely (H. S. Warren, Hacker's
     * Delight, 2nd ed., section 6-1).
     */
    private static int zeroOrEnd(byte[] bytes, int from, int end) {
        int at = from;
        for (; at <= end - Long.BYTES; at += Long.BYTES) {
            long word = LittleEndian.i64(bytes, at);
            long zeros = (word - LOWEST_BITS) & ~word & HIGHEST_BITS;
            if (zeros != 0) {
                return at + (Long.numberOfTrailingZeros(zeros) >> 3);
            }
        }
        while (at < end && bytes[at] != 0) {
            at++;
        }
        return at;
    }

    /** Takes bytes none of which ends a frame. */
    private void takeRun(byte[] bytes, int from, int length) {
        if (skipping) {
            counters.skippedBytes += length;
        } else if (fill + length <= frame.length) {
            System.arraycopy(bytes, from, frame, fill, length);
            fill += length;
        } else {
            counters.oversized++;
            counters.skippedBytes += fill + length;
            fill = 0;
            skipping = true;
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
        } else {
            count(useFrame(stuffed), stuffed + 1);
        }
    }

    private boolean useFrame(int stuffed) {
        int from = Cobs.DECODED_FROM;
        int length = Cobs.decode(frame, stuffed);
        if (length > Wire.MAX_FRAME_BYTES) {
            counters.oversized++;
            return false;
        }
        int checked = length - CHECK_BYTES;
        if (checked < 1 || Crc16.of(frame, from, checked) != LittleEndian.u16(frame, from + checked)) {
            counters.crcFailures++;
            return false;
        }
        return readFrame(length);
    }

    /** Reads a frame that is unstuffed and checked. */
    private boolean readFrame(int length) {
        int from = Cobs.DECODED_FROM;
        boolean wellFormed = reader.read(LittleEndian.u8(frame, from), frame, from + 1, length - CHECK_BYTES - 1);
        counters.malformed += wellFormed ? 0 : 1;
        return wellFormed;
    }
}
