package io.heldmark.protocol;

import java.util.Arrays;
import java.util.OptionalDouble;
import java.util.OptionalInt;

/**
 * Reads the binary payload of a message and delivers it. Used by the byte stream and GATT alike.
 *
 * <p>A status, pong or ping longer than this version knows is read and the rest ignored: later minor versions append.
 */
final class PayloadReader {
    private final Inbox inbox;
    private final SamplesView samples = new SamplesView();

    PayloadReader(Inbox inbox) {
        this.inbox = inbox;
    }

    /**
     * Delivers a message and returns whether it was well-formed; an unknown type is.
     *
     * @param type message type, 0 to 255.
     * @param bytes buffer that holds the payload; not kept.
     * @param at index of the first byte of the payload.
     * @param length payload length in bytes.
     */
    boolean read(int type, byte[] bytes, int at, int length) {
        return switch (type) {
            case Wire.SAMPLES -> samples(bytes, at, length);
            case Wire.DESCRIBE -> describe(bytes, at, length);
            case Wire.STATUS -> status(bytes, at, length);
            case Wire.REPLY -> reply(bytes, at, length);
            case Wire.PONG -> pong(bytes, at, length);
            case Wire.COMMAND -> command(bytes, at, length);
            case Wire.PING -> ping(bytes, at, length);
            default -> {
                inbox.unknown(type, length);
                yield true;
            }
        };
    }

    private boolean samples(byte[] bytes, int at, int length) {
        boolean wellFormed = BinarySamples.read(bytes, at, length, samples);
        if (wellFormed) {
            inbox.samples(samples);
        }
        return wellFormed;
    }

    private boolean describe(byte[] bytes, int at, int length) {
        if (length >= 2 && LittleEndian.u8(bytes, at) != Wire.VERSION_MAJOR) {
            inbox.unknown(Wire.DESCRIBE, length);
            return true;
        }
        Describe describe = DescribeReader.read(bytes, at, length);
        if (describe == null) {
            return false;
        }
        inbox.describe(describe);
        return true;
    }

    private boolean status(byte[] bytes, int at, int length) {
        if (length < Wire.STATUS_BYTES) {
            return false;
        }
        int charge = LittleEndian.u8(bytes, at + 4);
        int tenthsC = (short) LittleEndian.u16(bytes, at + 5);
        if (charge > 100 && charge != Wire.U8_MAX) {
            return false;
        }
        inbox.status(new Status(
                LittleEndian.u32(bytes, at),
                charge == Wire.U8_MAX ? OptionalInt.empty() : OptionalInt.of(charge),
                tenthsC == Short.MIN_VALUE ? OptionalDouble.empty() : OptionalDouble.of(tenthsC / 10.0),
                LittleEndian.u16(bytes, at + 7),
                LittleEndian.u32(bytes, at + 9),
                LittleEndian.u16(bytes, at + 13)));
        return true;
    }

    private boolean reply(byte[] bytes, int at, int length) {
        if (length < 3) {
            return false;
        }
        inbox.reply(new Reply(
                LittleEndian.u8(bytes, at),
                LittleEndian.u8(bytes, at + 1),
                LittleEndian.u8(bytes, at + 2),
                Arrays.copyOfRange(bytes, at + 3, at + length)));
        return true;
    }

    private boolean command(byte[] bytes, int at, int length) {
        if (length < 2) {
            return false;
        }
        inbox.command(new Command(
                LittleEndian.u8(bytes, at),
                LittleEndian.u8(bytes, at + 1),
                Arrays.copyOfRange(bytes, at + 2, at + length)));
        return true;
    }

    private boolean pong(byte[] bytes, int at, int length) {
        if (length < Wire.PONG_BYTES) {
            return false;
        }
        inbox.pong(LittleEndian.u16(bytes, at), LittleEndian.u32(bytes, at + 2), LittleEndian.u32(bytes, at + 6));
        return true;
    }

    private boolean ping(byte[] bytes, int at, int length) {
        if (length < Wire.PING_BYTES) {
            return false;
        }
        inbox.ping(LittleEndian.u16(bytes, at));
        return true;
    }
}
