package io.heldmark.simulator.ble;

import io.heldmark.simulator.scenario.CellSpec;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.bluez.GattService1;
import org.freedesktop.dbus.DBusPath;
import org.freedesktop.dbus.connections.impl.DBusConnection;
import org.freedesktop.dbus.exceptions.DBusException;
import org.freedesktop.dbus.interfaces.ObjectManager;
import org.freedesktop.dbus.types.Variant;

/**
 * The services of a cell as the tree of objects that BlueZ's {@code RegisterApplication} takes: the Gaugeline service, Device
 * Information and Battery. Generic Access and Generic Attribute are BlueZ's own, and it refuses whoever brings them.
 */
final class ServedTree implements ObjectManager {
    private static final String ROOT = "/io/heldmark/cell";
    private static final String SERVICE_INTERFACE = "org.bluez.GattService1";

    private final List<ServedObject> objects = new ArrayList<>();
    private final ServedCharacteristic stream;
    private final ServedCharacteristic reply;

    /** What of a cell it needs. */
    interface Owner {
        /** Takes a value that was written to the command characteristic. */
        void onCommand(byte[] value);

        /** Takes who is connected, and what was agreed on with it. */
        void onCall(Map<String, Variant<?>> options);

        /** The subscription to a characteristic has ended. */
        void onEnd(ServedCharacteristic characteristic);
    }

    ServedTree(DBusConnection bus, CellSpec cell, AttributeTable.Shown shown, Owner owner) {
        Service own = service(GattNames.SERVICE);
        readable(own, owner, GattNames.DESCRIBE, shown::describe);
        stream = add(new ServedCharacteristic(bus, own.next(), own, GattNames.STREAM, owner).notified());
        add(new ServedCharacteristic(bus, own.next(), own, GattNames.COMMAND, owner).written());
        reply = add(new ServedCharacteristic(bus, own.next(), own, GattNames.REPLY, owner).notified());
        Service information = service(assigned("180a"));
        readable(information, owner, assigned("2a29"), () -> text(GattNames.MANUFACTURER));
        readable(information, owner, assigned("2a24"), () -> text(cell.model()));
        readable(information, owner, assigned("2a26"), () -> text(cell.firmware()));
        Service battery = service(assigned("180f"));
        readable(battery, owner, assigned("2a19"), () -> new byte[] {(byte) shown.batteryPercent()});
    }

    /** Returns the 128-bit form of a number that the Bluetooth SIG assigned (Core Specification, Vol 3, Part B, 2.5.1). */
    private static String assigned(String number) {
        return "0000" + number + "-0000-1000-8000-00805f9b34fb";
    }

    private static byte[] text(String text) {
        return text.getBytes(StandardCharsets.UTF_8);
    }

    private Service service(String uuid) {
        return add(new Service(ROOT + "/service" + objects.size(), uuid));
    }

    private void readable(Service service, Owner owner, String uuid, ServedCharacteristic.Value value) {
        add(new ServedCharacteristic(null, service.next(), service, uuid, owner).read(value));
    }

    private <T extends ServedObject> T add(T object) {
        objects.add(object);
        return object;
    }

    ServedCharacteristic stream() {
        return stream;
    }

    ServedCharacteristic reply() {
        return reply;
    }

    /** Puts all objects on the bus. */
    void export(DBusConnection bus) throws DBusException {
        bus.exportObject(this);
        for (ServedObject object : objects) {
            bus.exportObject(object);
        }
    }

    @Override
    public String getObjectPath() {
        return ROOT;
    }

    @Override
    public Map<DBusPath, Map<String, Map<String, Variant<?>>>> GetManagedObjects() {
        Map<DBusPath, Map<String, Map<String, Variant<?>>>> all = new LinkedHashMap<>();
        objects.forEach(object -> all.put(object.dbusPath(), object.described()));
        return all;
    }

    /** One service. */
    static final class Service extends ServedObject implements GattService1 {
        private int characteristics;

        Service(String path, String uuid) {
            super(path, SERVICE_INTERFACE);
            put("UUID", uuid);
            put("Primary", true);
        }

        /** Returns the path of its next characteristic. */
        String next() {
            return getObjectPath() + "/char" + characteristics++;
        }
    }
}
