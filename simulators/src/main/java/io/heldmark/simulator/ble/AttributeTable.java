package io.heldmark.simulator.ble;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.UUID;
import java.util.function.Supplier;

/**
 * The attributes of a cell in the order of their handles, from 1: Generic Access, Generic Attribute, Device Information,
 * Battery, and the Gaugeline service.
 *
 * <p>Layout of declarations: Bluetooth Core Specification, Vol 3, Part G, 3.1 to 3.3; numbers: Bluetooth SIG, Assigned Numbers
 * (both from memory).
 */
final class AttributeTable {
    static final int PRIMARY_SERVICE = 0x2800;
    static final int CHARACTERISTIC = 0x2803;
    static final int CLIENT_CONFIGURATION = 0x2902;

    static final int READ = 0x02;
    static final int WRITE_WITHOUT_RESPONSE = 0x04;
    static final int WRITE = 0x08;
    static final int NOTIFY = 0x10;

    /** An attribute. */
    static final class Attribute {
        private final int handle;
        private final byte[] type;
        private final Supplier<byte[]> value;
        private final int valueHandle;

        private Attribute(int handle, byte[] type, Supplier<byte[]> value, int valueHandle) {
            this.handle = handle;
            this.type = type;
            this.value = value;
            this.valueHandle = valueHandle;
        }

        /** Returns its handle. */
        int handle() {
            return handle;
        }

        /** Returns its type as it goes over the air, 2 or 16 bytes; not to be changed. */
        byte[] type() {
            return type;
        }

        /** Returns its value now. */
        byte[] value() {
            return value.get();
        }

        /** Returns for a client configuration the handle of the value that it switches; else 0. */
        int valueHandle() {
            return valueHandle;
        }

        boolean hasType(byte[] other) {
            return Arrays.equals(type, other);
        }
    }

    private final List<Attribute> attributes = new ArrayList<>();
    private final int stream;
    private final int reply;
    private final int command;

    /** What of a cell the table shows. */
    interface Shown {
        /** Returns the advertised name. */
        String name();

        /** Returns the model. */
        String model();

        /** Returns the firmware version. */
        String firmware();

        /** Returns the charge of the battery, in percent. */
        int batteryPercent();

        /** Returns the value of describe. */
        byte[] describe();
    }

    AttributeTable(Shown shown) {
        service(shortUuid(0x1800));
        characteristic(shortUuid(0x2A00), READ, () -> text(shown.name()));
        service(shortUuid(0x1801));
        service(shortUuid(0x180A));
        characteristic(shortUuid(0x2A29), READ, () -> text(GattNames.MANUFACTURER));
        characteristic(shortUuid(0x2A24), READ, () -> text(shown.model()));
        characteristic(shortUuid(0x2A26), READ, () -> text(shown.firmware()));
        service(shortUuid(0x180F));
        characteristic(shortUuid(0x2A19), READ, () -> new byte[] {(byte) shown.batteryPercent()});
        service(uuid(GattNames.SERVICE));
        characteristic(uuid(GattNames.DESCRIBE), READ, shown::describe);
        stream = characteristic(uuid(GattNames.STREAM), NOTIFY, () -> new byte[0]);
        command = characteristic(uuid(GattNames.COMMAND), WRITE | WRITE_WITHOUT_RESPONSE, () -> new byte[0]);
        reply = characteristic(uuid(GattNames.REPLY), NOTIFY, () -> new byte[0]);
    }

    private void service(byte[] uuid) {
        add(shortUuid(PRIMARY_SERVICE), () -> uuid, 0);
    }

    private int characteristic(byte[] uuid, int properties, Supplier<byte[]> value) {
        int valueHandle = attributes.size() + 2;
        byte[] declaration = new byte[3 + uuid.length];
        declaration[0] = (byte) properties;
        declaration[1] = (byte) valueHandle;
        declaration[2] = (byte) (valueHandle >> 8);
        System.arraycopy(uuid, 0, declaration, 3, uuid.length);
        add(shortUuid(CHARACTERISTIC), () -> declaration, 0);
        add(uuid, value, 0);
        if ((properties & NOTIFY) != 0) {
            add(shortUuid(CLIENT_CONFIGURATION), () -> new byte[2], valueHandle);
        }
        return valueHandle;
    }

    private void add(byte[] type, Supplier<byte[]> value, int valueHandle) {
        attributes.add(new Attribute(attributes.size() + 1, type, value, valueHandle));
    }

    /** Returns the attributes of a range of handles. */
    List<Attribute> between(int first, int last) {
        int from = Math.max(0, first - 1);
        int to = Math.min(attributes.size(), last);
        return from >= to ? List.of() : attributes.subList(from, to);
    }

    /** Returns the last handle of the service that begins at a handle. */
    int endOfService(int handle) {
        int end = handle;
        while (end < attributes.size() && !attributes.get(end).hasType(shortUuid(PRIMARY_SERVICE))) {
            end++;
        }
        return end;
    }

    /** Returns the handle of the value of stream. */
    int stream() {
        return stream;
    }

    /** Returns the handle of the value of reply. */
    int reply() {
        return reply;
    }

    /** Returns the handle of the value of command. */
    int command() {
        return command;
    }

    static byte[] shortUuid(int number) {
        return new byte[] {(byte) number, (byte) (number >> 8)};
    }

    /** Returns a UUID as it goes over the air, least significant byte first. */
    static byte[] uuid(String text) {
        UUID parsed = UUID.fromString(text);
        byte[] bytes = new byte[16];
        for (int i = 0; i < 8; i++) {
            bytes[i] = (byte) (parsed.getLeastSignificantBits() >> (8 * i));
            bytes[8 + i] = (byte) (parsed.getMostSignificantBits() >> (8 * i));
        }
        return bytes;
    }

    static byte[] text(String text) {
        return text.getBytes(StandardCharsets.UTF_8);
    }
}
