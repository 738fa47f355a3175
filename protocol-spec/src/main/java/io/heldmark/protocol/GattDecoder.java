package io.heldmark.protocol;

import java.util.Objects;

/**
 * Decodes the Bluetooth LE binding. One call of {@link #accept} takes one characteristic value with the byte before it
 * that says which characteristic it came from: {@link Wire#GATT_DESCRIBE}, {@link Wire#GATT_STREAM},
 * {@link Wire#GATT_COMMAND} or {@link Wire#GATT_REPLY}. Values are whole or lost, so nothing is kept between calls but
 * the sequence number, and there is no CRC of our own: the link layer has one.
 *
 * <p><b>Errors.</b> Never throws for any value; see {@link DecoderCounters}. The leading byte counts as a byte.
 *
 * <p><b>Source.</b> {@code protocol-spec/gaugeline-v1.md}, section "GATT binding".
 */
public final class GattDecoder implements StreamDecoder {
    private final Inbox inbox;
    private final DecoderCounters counters = new DecoderCounters();
    private final PayloadReader reader;

    /**
     * Creates a decoder.
     *
     * @param handler receives the messages.
     */
    public GattDecoder(MessageHandler handler) {
        inbox = new Inbox(handler, counters);
        reader = new PayloadReader(inbox);
    }

    @Override
    public void accept(byte[] bytes, int offset, int length) {
        Objects.checkFromIndexSize(offset, length, bytes.length);
        counters.bytes += length;
        if (length > 1 + Wire.MAX_VALUE_BYTES) {
            counters.oversized++;
            counters.skippedBytes += length;
        } else if (useValue(bytes, offset, length)) {
            counters.messageBytes += length;
        } else {
            counters.malformed++;
            counters.skippedBytes += length;
        }
    }

    @Override
    public DecoderCounters counters() {
        return counters;
    }

    @Override
    public void reset() {
        inbox.reset();
    }

    private boolean useValue(byte[] bytes, int offset, int length) {
        if (length < 2) {
            return false;
        }
        int characteristic = LittleEndian.u8(bytes, offset);
        return switch (characteristic) {
            case Wire.GATT_DESCRIBE -> reader.read(Wire.DESCRIBE, bytes, offset + 1, length - 1);
            case Wire.GATT_STREAM -> reader.read(Wire.SAMPLES, bytes, offset + 1, length - 1);
            case Wire.GATT_COMMAND, Wire.GATT_REPLY -> useTyped(characteristic, bytes, offset + 1, length - 1);
            default -> false;
        };
    }

    private boolean useTyped(int characteristic, byte[] bytes, int at, int length) {
        int type = LittleEndian.u8(bytes, at);
        boolean onReply = type == Wire.STATUS || type == Wire.REPLY || type == Wire.PONG;
        boolean onCommand = type == Wire.COMMAND || type == Wire.PING;
        boolean elsewhere = type == Wire.DESCRIBE
                || type == Wire.SAMPLES
                || (onReply && characteristic != Wire.GATT_REPLY)
                || (onCommand && characteristic != Wire.GATT_COMMAND);
        return !elsewhere && reader.read(type, bytes, at + 1, length - 1);
    }
}
