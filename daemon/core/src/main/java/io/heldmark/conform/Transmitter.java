package io.heldmark.conform;

import io.heldmark.link.Link.Binding;
import io.heldmark.protocol.ByteStreamEncoder;
import io.heldmark.protocol.Command;
import io.heldmark.protocol.GattEncoder;
import io.heldmark.protocol.MessageEncoder;
import io.heldmark.protocol.TextEncoder;
import io.heldmark.protocol.Wire;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/** Puts what the station says into bytes: well-formed, and broken on purpose. */
final class Transmitter {
    private static final int TOO_LONG_BYTES = 600;
    private static final int RESERVED_TYPE = 0x50;

    private final byte[] scratch = new byte[Wire.MAX_MESSAGE_BYTES];
    private final ByteStreamEncoder bytes = new ByteStreamEncoder();
    private final TextEncoder text = new TextEncoder();
    private final GattEncoder gatt = new GattEncoder();

    /**
     * Returns a command. Where the binding is not known yet it is in both forms, as the specification's handshake has it:
     * 0x00, frame, LF, line, 0x00.
     */
    byte[] command(Binding binding, Command command) {
        if (binding != Binding.AUTO) {
            MessageEncoder encoder = encoder(binding);
            return Arrays.copyOf(scratch, encoder.command(command, scratch, 0));
        }
        int at = ByteStreamEncoder.opening(scratch, 0);
        at += bytes.command(command, scratch, at);
        scratch[at++] = '\n';
        at += text.command(command, scratch, at);
        scratch[at++] = 0;
        return Arrays.copyOf(scratch, at);
    }

    /** Returns a ping. */
    byte[] ping(Binding binding, int pingId) {
        return Arrays.copyOf(scratch, encoder(binding).ping(pingId, scratch, 0));
    }

    /** Returns what parts a link from whatever was sent before: 0x00 or LF; empty on GATT. */
    static byte[] opening(Binding binding) {
        return switch (binding) {
            case BYTES -> new byte[1];
            case TEXT -> new byte[] {'\n'};
            default -> new byte[0];
        };
    }

    /**
     * Returns input that no device may use, piece by piece.
     *
     * @param binding the binding.
     * @param obeyed a command that stands in a frame whose check is wrong; byte stream only.
     */
    List<byte[]> unusable(Binding binding, Command obeyed) {
        List<byte[]> pieces = new ArrayList<>();
        switch (binding) {
            case TEXT -> {
                pieces.add(line("Q,notanumber,1"));
                pieces.add(line("Z,1,2,3"));
                pieces.add(line("x".repeat(TOO_LONG_BYTES)));
                pieces.add(new byte[] {(byte) 0x80, (byte) 0xFF, 0x07, '\n'});
            }
            case GATT -> {
                pieces.add(new byte[] {Wire.GATT_COMMAND, Wire.COMMAND});
                pieces.add(new byte[] {Wire.GATT_COMMAND, RESERVED_TYPE, 1, 2});
                pieces.add(new byte[] {Wire.GATT_COMMAND, Wire.PING, 1});
            }
            default -> {
                byte[] wrongCheck = command(Binding.BYTES, obeyed);
                // The byte before the delimiter is the high byte of the check; 0x55 keeps it from becoming zero.
                int check = wrongCheck.length - 2;
                wrongCheck[check] = (byte) (wrongCheck[check] == 0x55 ? 0x56 : 0x55);
                pieces.add(wrongCheck);
                pieces.add(new byte[] {0x12, 0x34, (byte) 0xA5, (byte) 0xFF, 0x01, 0x02, 0});
                byte[] tooLong = new byte[TOO_LONG_BYTES];
                Arrays.fill(tooLong, (byte) 0x55);
                tooLong[TOO_LONG_BYTES - 1] = 0;
                pieces.add(tooLong);
            }
        }
        return pieces;
    }

    private MessageEncoder encoder(Binding binding) {
        return switch (binding) {
            case TEXT -> text;
            case GATT -> gatt;
            default -> bytes;
        };
    }

    private static byte[] line(String line) {
        return (line + '\n').getBytes(StandardCharsets.US_ASCII);
    }
}
