package io.heldmark.protocol;

import java.util.OptionalDouble;
import java.util.OptionalInt;

/** Reads the lines that are one message each and allocate: status, reply, pong, command, ping. */
final class LineMessages {
    private static final byte[] NOTHING = {};

    private final Inbox inbox;
    private final LineFields fields;

    LineMessages(Inbox inbox, LineFields fields) {
        this.inbox = inbox;
        this.fields = fields;
    }

    /**
     * Delivers the message of the present line and returns whether it is well-formed; a line of an unknown letter is.
     *
     * @param kind letter of the line; 0 where the first field is not one character.
     * @param length length of the line without check and line end, in bytes.
     */
    boolean read(byte kind, int length) {
        switch (kind) {
            case 'H' -> status();
            case 'R' -> reply();
            case 'O' -> pong();
            case 'Q' -> command();
            case 'P' -> ping();
            default -> unknown(kind, length);
        }
        return fields.ok();
    }

    private void unknown(byte kind, int length) {
        if (kind >= 'A' && kind <= 'Z') {
            inbox.unknown(kind, length);
        } else {
            fields.fail();
        }
    }

    private void status() {
        long tick = fields.need().integer(0, Wire.U32_MAX);
        OptionalInt charge =
                fields.need().isEmpty() ? OptionalInt.empty() : OptionalInt.of((int) fields.integer(0, 100));
        OptionalDouble temperatureC =
                fields.need().isEmpty() ? OptionalDouble.empty() : OptionalDouble.of(fields.tenths() / 10.0);
        int adcFaults = (int) numberOrZero(Wire.U16_MAX);
        long lost = numberOrZero(Wire.U32_MAX);
        int rejected = (int) numberOrZero(Wire.U16_MAX);
        if (fields.ok()) {
            inbox.status(new Status(tick, charge, temperatureC, adcFaults, lost, rejected));
        }
    }

    private long numberOrZero(long max) {
        return fields.need().isEmpty() ? 0 : fields.integer(0, max);
    }

    private void reply() {
        int opcode = u8();
        int token = u8();
        int result = u8();
        byte[] data = fields.next() ? fields.hex() : NOTHING;
        if (fields.ok()) {
            inbox.reply(new Reply(opcode, token, result, data));
        }
    }

    private void command() {
        int opcode = u8();
        int token = u8();
        byte[] arguments = fields.next() ? fields.hex() : NOTHING;
        if (fields.ok()) {
            inbox.command(new Command(opcode, token, arguments));
        }
    }

    private void pong() {
        int id = (int) fields.need().integer(0, Wire.U16_MAX);
        long received = fields.need().integer(0, Wire.U32_MAX);
        long transmitted = fields.need().integer(0, Wire.U32_MAX);
        if (fields.ok()) {
            inbox.pong(id, received, transmitted);
        }
    }

    private void ping() {
        int id = (int) fields.need().integer(0, Wire.U16_MAX);
        if (fields.ok()) {
            inbox.ping(id);
        }
    }

    private int u8() {
        return (int) fields.need().integer(0, Wire.U8_MAX);
    }
}
