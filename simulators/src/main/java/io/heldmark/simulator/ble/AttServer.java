package io.heldmark.simulator.ble;

import io.heldmark.simulator.ble.AttributeTable.Attribute;
import java.io.ByteArrayOutputStream;
import java.util.Arrays;
import java.util.List;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Consumer;
import org.jspecify.annotations.Nullable;

/**
 * Answers the requests of the Attribute Protocol from a table: discovery, reads (long ones by blob), writes of commands and
 * client configurations. No prepared writes, no security.
 *
 * <p>Source: Bluetooth Core Specification, Vol 3, Part F, 3.4 (from memory). Thread-safe for notifications beside requests.
 */
final class AttServer {
    static final int SMALLEST_MTU = 23;

    private static final int ERROR = 0x01;
    private static final int MTU_REQUEST = 0x02;
    private static final int FIND_INFORMATION = 0x04;
    private static final int FIND_BY_TYPE_VALUE = 0x06;
    private static final int READ_BY_TYPE = 0x08;
    private static final int READ = 0x0A;
    private static final int READ_BLOB = 0x0C;
    private static final int READ_BY_GROUP_TYPE = 0x10;
    private static final int WRITE = 0x12;
    private static final int NOTIFICATION = 0x1B;
    private static final int CONFIRMATION = 0x1E;
    private static final int WRITE_COMMAND = 0x52;

    private static final int INVALID_HANDLE = 0x01;
    private static final int WRITE_NOT_PERMITTED = 0x03;
    private static final int INVALID_PDU = 0x04;
    private static final int NOT_SUPPORTED = 0x06;
    private static final int INVALID_OFFSET = 0x07;
    private static final int NOT_FOUND = 0x0A;
    private static final int UNSUPPORTED_GROUP = 0x10;

    private final AttributeTable table;
    private final int ownMtu;
    private final Consumer<byte[]> commands;
    private final Runnable streamEnd;
    private final Set<Integer> subscribed = ConcurrentHashMap.newKeySet();
    private volatile int mtu = SMALLEST_MTU;

    /**
     * Makes a server without a client.
     *
     * @param table what it serves.
     * @param ownMtu largest PDU that it takes, 23 to 517.
     * @param commands takes what is written to the command characteristic.
     * @param streamEnd told when the subscription to stream has ended.
     */
    AttServer(AttributeTable table, int ownMtu, Consumer<byte[]> commands, Runnable streamEnd) {
        this.table = table;
        this.ownMtu = ownMtu;
        this.commands = commands;
        this.streamEnd = streamEnd;
    }

    /** Forgets the client: its subscriptions and what was agreed on. */
    void reset() {
        subscribed.clear();
        mtu = SMALLEST_MTU;
    }

    /** Returns whether the client has subscribed to the stream. */
    boolean isStreamWanted() {
        return subscribed.contains(table.stream());
    }

    /** Returns the largest PDU that both sides take. */
    int mtu() {
        return mtu;
    }

    /** Returns a notification of a value; null where nobody has subscribed to it or it is too long. */
    byte @Nullable [] notification(int handle, byte[] value) {
        if (!subscribed.contains(handle) || value.length > mtu - 3) {
            return null;
        }
        return joined(new byte[] {NOTIFICATION, (byte) handle, (byte) (handle >> 8)}, value);
    }

    /** Answers a PDU; null where it has no answer. */
    byte @Nullable [] answer(byte[] pdu) {
        int opcode = pdu.length == 0 ? 0 : pdu[0] & 0xFF;
        if (pdu.length < shortest(opcode)) {
            return error(opcode, 0, INVALID_PDU);
        }
        return switch (opcode) {
            case MTU_REQUEST -> agree(u16(pdu, 1));
            case FIND_INFORMATION -> findInformation(u16(pdu, 1), u16(pdu, 3));
            case FIND_BY_TYPE_VALUE -> findByValue(pdu);
            case READ_BY_TYPE -> readByType(pdu);
            case READ_BY_GROUP_TYPE -> readByGroup(pdu);
            case READ -> read(opcode, u16(pdu, 1), 0);
            case READ_BLOB -> read(opcode, u16(pdu, 1), u16(pdu, 3));
            case WRITE, WRITE_COMMAND -> write(opcode, u16(pdu, 1), Arrays.copyOfRange(pdu, 3, pdu.length));
            case CONFIRMATION -> null;
            // Bit 6 marks commands, which are never answered.
            default -> (opcode & 0x40) != 0 ? null : error(opcode, 0, NOT_SUPPORTED);
        };
    }

    private static int shortest(int opcode) {
        return switch (opcode) {
            case MTU_REQUEST, READ, WRITE, WRITE_COMMAND -> 3;
            case FIND_INFORMATION, READ_BLOB -> 5;
            case FIND_BY_TYPE_VALUE, READ_BY_TYPE, READ_BY_GROUP_TYPE -> 7;
            default -> 0;
        };
    }

    private byte[] agree(int clientMtu) {
        mtu = Math.max(SMALLEST_MTU, Math.min(clientMtu, ownMtu));
        return new byte[] {MTU_REQUEST + 1, (byte) ownMtu, (byte) (ownMtu >> 8)};
    }

    private byte[] findInformation(int first, int last) {
        List<Attribute> found = table.between(first, last);
        if (found.isEmpty()) {
            return error(FIND_INFORMATION, first, NOT_FOUND);
        }
        int width = found.get(0).type().length;
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        out.write(FIND_INFORMATION + 1);
        out.write(width == 2 ? 1 : 2);
        for (Attribute a : found) {
            if (a.type().length != width || out.size() + 2 + width > mtu) {
                break;
            }
            put16(out, a.handle());
            out.writeBytes(a.type());
        }
        return out.toByteArray();
    }

    private byte[] findByValue(byte[] pdu) {
        byte[] type = Arrays.copyOfRange(pdu, 5, 7);
        byte[] value = Arrays.copyOfRange(pdu, 7, pdu.length);
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        out.write(FIND_BY_TYPE_VALUE + 1);
        for (Attribute a : table.between(u16(pdu, 1), u16(pdu, 3))) {
            if (a.hasType(type) && Arrays.equals(a.value(), value) && out.size() + 4 <= mtu) {
                put16(out, a.handle());
                put16(out, table.endOfService(a.handle()));
            }
        }
        return out.size() == 1 ? error(FIND_BY_TYPE_VALUE, u16(pdu, 1), NOT_FOUND) : out.toByteArray();
    }

    private byte[] readByType(byte[] pdu) {
        return list(READ_BY_TYPE, pdu, false);
    }

    private byte[] readByGroup(byte[] pdu) {
        byte[] type = Arrays.copyOfRange(pdu, 5, pdu.length);
        if (!Arrays.equals(type, AttributeTable.shortUuid(AttributeTable.PRIMARY_SERVICE))) {
            return error(READ_BY_GROUP_TYPE, u16(pdu, 1), UNSUPPORTED_GROUP);
        }
        return list(READ_BY_GROUP_TYPE, pdu, true);
    }

    /** One answer holds entries of one length only; the client asks again behind the last. */
    private byte[] list(int opcode, byte[] pdu, boolean groups) {
        byte[] type = Arrays.copyOfRange(pdu, 5, pdu.length);
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        int width = 0;
        for (Attribute a : table.between(u16(pdu, 1), u16(pdu, 3))) {
            if (!a.hasType(type)) {
                continue;
            }
            byte[] value = a.value();
            int own = Math.min((groups ? 4 : 2) + value.length, Math.min(mtu - 2, 255));
            if (width == 0) {
                width = own;
                out.write(opcode + 1);
                out.write(width);
            }
            if (own != width || out.size() + width > mtu) {
                break;
            }
            put16(out, a.handle());
            if (groups) {
                put16(out, table.endOfService(a.handle()));
            }
            out.write(value, 0, width - (groups ? 4 : 2));
        }
        return width == 0 ? error(opcode, u16(pdu, 1), NOT_FOUND) : out.toByteArray();
    }

    private byte[] read(int opcode, int handle, int offset) {
        List<Attribute> found = table.between(handle, handle);
        if (found.isEmpty()) {
            return error(opcode, handle, INVALID_HANDLE);
        }
        Attribute a = found.get(0);
        byte[] value = a.valueHandle() != 0 && subscribed.contains(a.valueHandle()) ? new byte[] {1, 0} : a.value();
        if (offset > value.length) {
            return error(opcode, handle, INVALID_OFFSET);
        }
        int length = Math.min(value.length - offset, mtu - 1);
        return joined(new byte[] {(byte) (opcode + 1)}, Arrays.copyOfRange(value, offset, offset + length));
    }

    private byte @Nullable [] write(int opcode, int handle, byte[] value) {
        List<Attribute> found = table.between(handle, handle);
        int fault = found.isEmpty() ? INVALID_HANDLE : take(found.get(0), value);
        if (opcode == WRITE_COMMAND) {
            return null;
        }
        return fault == 0 ? new byte[] {WRITE + 1} : error(opcode, handle, fault);
    }

    private int take(Attribute attribute, byte[] value) {
        if (attribute.valueHandle() != 0 && value.length == 2) {
            if ((value[0] & 1) != 0) {
                subscribed.add(attribute.valueHandle());
            } else if (subscribed.remove(attribute.valueHandle()) && attribute.valueHandle() == table.stream()) {
                streamEnd.run();
            }
            return 0;
        }
        if (attribute.handle() == table.command()) {
            commands.accept(value);
            return 0;
        }
        return WRITE_NOT_PERMITTED;
    }

    private static byte[] error(int opcode, int handle, int fault) {
        return new byte[] {ERROR, (byte) opcode, (byte) handle, (byte) (handle >> 8), (byte) fault};
    }

    private static int u16(byte[] bytes, int at) {
        return (bytes[at] & 0xFF) | (bytes[at + 1] & 0xFF) << 8;
    }

    private static void put16(ByteArrayOutputStream out, int value) {
        out.write(value);
        out.write(value >> 8);
    }

    private static byte[] joined(byte[] first, byte[] second) {
        byte[] both = Arrays.copyOf(first, first.length + second.length);
        System.arraycopy(second, 0, both, first.length, second.length);
        return both;
    }
}
