package io.heldmark.protocol;

import java.util.Objects;
import org.jspecify.annotations.Nullable;

/**
 * Decodes the text binding: lines of printable ASCII with comma-separated fields and an optional check.
 *
 * <p><b>Method.</b> Bytes are collected until a line feed; a line that is too long is skipped up to it. A describe is
 * handed on when its E line arrives; a line that cannot be used discards a describe that is open, because it may have
 * been a part of it. Memory is one line and one describe.
 *
 * <p><b>Errors.</b> Never throws for any input; see {@link DecoderCounters}.
 *
 * <p><b>Source.</b> {@code protocol-spec/gaugeline-v1.md}, section "Text binding".
 */
public final class TextDecoder implements StreamDecoder {
    private static final int CHECK_BYTES = 5;

    private final Inbox inbox;
    private final DecoderCounters counters;
    private final byte[] line = new byte[Wire.MAX_LINE_BYTES + 1]; // One more for the carriage return.
    private final LineFields fields = new LineFields();
    private final SamplesView samples = new SamplesView();
    private final LineMessages messages;
    private @Nullable DescribeLines open;
    private int fill;
    private boolean skipping;

    /**
     * Creates a decoder.
     *
     * @param handler receives the messages.
     */
    public TextDecoder(MessageHandler handler) {
        this(handler, new DecoderCounters());
    }

    TextDecoder(MessageHandler handler, DecoderCounters counters) {
        this.counters = counters;
        inbox = new Inbox(handler, counters);
        messages = new LineMessages(inbox, fields);
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
            if (bytes[i] == '\n') {
                endLine();
            } else if (skipping) {
                counters.skippedBytes++;
            } else if (fill < line.length) {
                line[fill++] = bytes[i];
            } else {
                counters.skippedBytes += fill + 1;
                fill = 0;
                skipping = true;
                oversized();
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
        discardDescribe();
        inbox.reset();
    }

    private void endLine() {
        int wireBytes = fill + 1;
        int length = fill > 0 && line[fill - 1] == '\r' ? fill - 1 : fill;
        fill = 0;
        if (skipping) {
            skipping = false;
            counters.skippedBytes++;
        } else if (length == 0) {
            counters.idleBytes += wireBytes;
        } else if (length > Wire.MAX_LINE_BYTES) {
            counters.skippedBytes += wireBytes;
            oversized();
        } else {
            useLine(length, wireBytes);
        }
    }

    private void oversized() {
        counters.oversized++;
        discardDescribe();
    }

    private void useLine(int length, int wireBytes) {
        if (!isPrintable(length)) {
            malformed(wireBytes);
        } else if (line[0] == '#') {
            counters.idleBytes += wireBytes;
        } else {
            useChecked(length, wireBytes);
        }
    }

    private void useChecked(int length, int wireBytes) {
        int star = star(length);
        if (star < 0) {
            useFields(length, wireBytes);
            return;
        }
        int check = star == length - CHECK_BYTES ? check(star + 1) : -1;
        if (check < 0) {
            malformed(wireBytes);
        } else if (check != Crc16.of(line, 0, star)) {
            counters.crcFailures++;
            counters.skippedBytes += wireBytes;
            discardDescribe();
        } else {
            useFields(star, wireBytes);
        }
    }

    private void useFields(int length, int wireBytes) {
        fields.wrap(line, length);
        byte kind = fields.length() == 1 ? fields.first() : 0;
        if (kind == 'D' || kind == 'C' || kind == 'K' || kind == 'E') {
            useDescribeLine(kind, wireBytes);
        } else if (kind == 'S' ? useSamples() : messages.read(kind, length)) {
            counters.messageBytes += wireBytes;
        } else {
            malformed(wireBytes);
        }
    }

    private boolean useSamples() {
        boolean wellFormed = LineSamples.read(fields, samples);
        if (wellFormed) {
            inbox.samples(samples);
        }
        return wellFormed;
    }

    private void useDescribeLine(byte kind, int wireBytes) {
        if (kind == 'D') {
            openDescribe(wireBytes);
            return;
        }
        DescribeLines describe = open;
        if (describe == null) {
            malformed(wireBytes);
        } else if (kind == 'E') {
            closeDescribe(describe, wireBytes);
        } else if (kind == 'C' ? describe.channel(fields) : describe.calibration(fields)) {
            describe.bytes += wireBytes;
        } else {
            malformed(wireBytes);
        }
    }

    private void openDescribe(int wireBytes) {
        if (open != null) {
            counters.malformed++; // The one before never ended.
            discardDescribe();
        }
        DescribeLines opened = DescribeLines.open(fields);
        if (opened == null) {
            malformed(wireBytes);
        } else {
            opened.bytes = wireBytes;
            open = opened;
        }
    }

    private void closeDescribe(DescribeLines describe, int wireBytes) {
        int bytes = describe.bytes + wireBytes;
        if (!describe.isKnownVersion()) {
            open = null;
            counters.messageBytes += bytes;
            inbox.unknown(Wire.DESCRIBE, bytes);
            return;
        }
        Describe message = describe.close(fields);
        if (message == null) {
            malformed(wireBytes);
            return;
        }
        open = null;
        counters.messageBytes += bytes;
        inbox.describe(message);
    }

    private void malformed(int wireBytes) {
        counters.malformed++;
        counters.skippedBytes += wireBytes;
        discardDescribe();
    }

    private void discardDescribe() {
        if (open != null) {
            counters.skippedBytes += open.bytes;
            open = null;
        }
    }

    private boolean isPrintable(int length) {
        for (int i = 0; i < length; i++) {
            if (line[i] < ' ' || line[i] > '~') {
                return false;
            }
        }
        return true;
    }

    /** Returns the index of the first asterisk, or -1; only a check may hold one. */
    private int star(int length) {
        for (int i = 0; i < length; i++) {
            if (line[i] == '*') {
                return i;
            }
        }
        return -1;
    }

    /** Returns the number that four hex digits give, or -1 where they are none. */
    private int check(int at) {
        int value = 0;
        for (int i = at; i < at + 4; i++) {
            int digit = LineFields.hexDigit(line[i]);
            if (digit < 0) {
                return -1;
            }
            value = (value << 4) | digit;
        }
        return value;
    }
}
