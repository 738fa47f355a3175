package io.heldmark.simulator.device;

import io.heldmark.protocol.Crc16;
import io.heldmark.protocol.Wire;
import io.heldmark.simulator.scenario.CellSpec.Binding;
import io.heldmark.simulator.scenario.Nonconformity;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/** Breaks the rules about bytes on purpose: changes messages in their wire form, and puts others behind them. */
final class WireBreach {
    private static final int FOLLOWS_EVERY = 50;
    private static final int TOO_LONG_BYTES = 600;
    private static final int DESCRIBE_HEADER_BYTES = 12;

    private final Binding binding;
    private final Nonconformity rule;
    private long samples;

    /** What a message is. */
    enum Kind {
        /** The zero at the start. */
        OPENING,
        /** Describe. */
        DESCRIBE,
        /** Samples. */
        SAMPLES,
        /** Anything else. */
        OTHER
    }

    WireBreach(Binding binding, Nonconformity rule) {
        this.binding = binding;
        this.rule = rule;
    }

    /** Returns what is sent in place of a message, one piece a frame. */
    List<byte[]> apply(Kind kind, byte[] wire) {
        return switch (kind) {
            case OPENING -> rule == Nonconformity.OPENING ? List.of() : List.of(wire);
            case DESCRIBE -> List.of(describe(wire));
            case SAMPLES -> samples(wire);
            case OTHER -> List.of(wire);
        };
    }

    private byte[] describe(byte[] wire) {
        boolean version = rule == Nonconformity.VERSION;
        if (!version && rule != Nonconformity.DESCRIBE) {
            return wire;
        }
        if (binding == Binding.TEXT) {
            String text = text(wire);
            int end = text.indexOf('\n');
            String line = body(text.substring(0, end));
            String other = version ? line.replace("D,1.0", "D,2.0") : line.replaceAll(",id=[^,]*", "");
            return (line(other, text.charAt(end - 5) == '*') + text.substring(end + 1))
                    .getBytes(StandardCharsets.US_ASCII);
        }
        byte[] message = unwrap(wire);
        if (version) {
            message[1] = 2;
            return wrap(message);
        }
        int id = 1 + DESCRIBE_HEADER_BYTES;
        int after = id + 2 + message[id + 1];
        byte[] without = Arrays.copyOf(message, message.length - (after - id));
        System.arraycopy(message, after, without, id, message.length - after);
        return wrap(without);
    }

    private List<byte[]> samples(byte[] wire) {
        samples++;
        List<byte[]> out = new ArrayList<>();
        out.add(changed(wire));
        boolean due = samples % FOLLOWS_EVERY == 0;
        if (due && rule == Nonconformity.LIMIT && binding != Binding.GATT) {
            byte[] tooLong = new byte[TOO_LONG_BYTES];
            Arrays.fill(tooLong, (byte) 'U');
            tooLong[TOO_LONG_BYTES - 1] = (byte) (binding == Binding.TEXT ? '\n' : 0);
            out.add(tooLong);
        } else if (due && rule == Nonconformity.MESSAGES) {
            byte[] status = new byte[16];
            status[0] = Wire.STATUS;
            status[5] = (byte) 150;
            out.add(other(status, "H,1,150,,0,0,0"));
        } else if (due && rule == Nonconformity.TYPES) {
            out.add(other(new byte[] {0x06, 1, 2}, "Z,1,2"));
        }
        return out;
    }

    private byte[] other(byte[] message, String line) {
        return switch (binding) {
            case TEXT -> line(line, true).getBytes(StandardCharsets.US_ASCII);
            case BYTES -> wrap(message);
            case GATT -> {
                byte[] value = new byte[message.length + 1];
                value[0] = Wire.GATT_REPLY;
                System.arraycopy(message, 0, value, 1, message.length);
                yield value;
            }
        };
    }

    private byte[] changed(byte[] wire) {
        boolean range = rule == Nonconformity.COUNT_RANGE && samples % FOLLOWS_EVERY == 0;
        if (binding == Binding.TEXT) {
            return changedLine(text(wire), range).getBytes(StandardCharsets.US_ASCII);
        }
        if (rule == Nonconformity.CHECK && samples % 10 == 0 && binding == Binding.BYTES) {
            byte[] checked = unstuff(wire);
            checked[checked.length - 1] ^= 0x10;
            return stuff(checked);
        }
        if (rule == Nonconformity.CHANNEL_MASK || range) {
            byte[] message = unwrap(wire);
            if (range) {
                message[9] = 0;
                message[10] = 0;
                message[11] = (byte) 0x80;
            } else {
                message[8] = (byte) (message[8] << 1);
            }
            return wrap(message);
        }
        return wire;
    }

    private String changedLine(String text, boolean range) {
        boolean checked = text.length() > 6 && text.charAt(text.length() - 6) == '*';
        String body = body(text.substring(0, text.length() - 1));
        if (rule == Nonconformity.CHECK && samples % 10 == 0 && checked) {
            char digit = text.charAt(text.length() - 2);
            return text.substring(0, text.length() - 2) + (digit == '0' ? '1' : '0') + '\n';
        }
        if (rule == Nonconformity.TEXT_CHECKS && samples % 2 == 0) {
            return line(body, false);
        }
        if (rule == Nonconformity.CHANNEL_MASK) {
            return line(body + ",0", checked);
        }
        if (range) {
            return line(body.replaceAll("^(S,[^,]*,[^,]*,[^,]*),[^,]*", "$1,2000000000"), checked);
        }
        return text;
    }

    private static String text(byte[] wire) {
        return new String(wire, StandardCharsets.US_ASCII);
    }

    private static String body(String line) {
        int star = line.lastIndexOf('*');
        return star < 0 ? line : line.substring(0, star);
    }

    private static String line(String body, boolean checked) {
        byte[] bytes = body.getBytes(StandardCharsets.US_ASCII);
        return body + (checked ? String.format("*%04X", Crc16.of(bytes, 0, bytes.length)) : "") + '\n';
    }

    /** Returns type or characteristic and payload. */
    private byte[] unwrap(byte[] wire) {
        if (binding == Binding.GATT) {
            return wire.clone();
        }
        byte[] checked = unstuff(wire);
        return Arrays.copyOf(checked, checked.length - 2);
    }

    private byte[] wrap(byte[] message) {
        if (binding == Binding.GATT) {
            return message;
        }
        byte[] checked = Arrays.copyOf(message, message.length + 2);
        int crc = Crc16.of(message, 0, message.length);
        checked[message.length] = (byte) crc;
        checked[message.length + 1] = (byte) (crc >> 8);
        return stuff(checked);
    }

    private static byte[] unstuff(byte[] wire) {
        byte[] out = new byte[wire.length];
        int fill = 0;
        int end = wire.length - 1;
        int at = 0;
        while (at < end) {
            int code = wire[at++] & 0xFF;
            for (int i = 1; i < code; i++) {
                out[fill++] = wire[at++];
            }
            if (code < 0xFF && at < end) {
                out[fill++] = 0;
            }
        }
        return Arrays.copyOf(out, fill);
    }

    private static byte[] stuff(byte[] frame) {
        byte[] out = new byte[frame.length + frame.length / 254 + 2];
        int mark = 0;
        int fill = 1;
        for (int i = 0; i < frame.length; i++) {
            if (frame[i] != 0) {
                out[fill++] = frame[i];
            }
            if (frame[i] == 0 || (fill - mark == 0xFF && i + 1 < frame.length)) {
                out[mark] = (byte) (fill - mark);
                mark = fill++;
            }
        }
        out[mark] = (byte) (fill - mark);
        return Arrays.copyOf(out, fill + 1);
    }
}
