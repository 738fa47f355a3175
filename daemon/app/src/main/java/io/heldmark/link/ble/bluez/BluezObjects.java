package io.heldmark.link.ble.bluez;

import java.util.Collection;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import org.freedesktop.dbus.DBusPath;
import org.freedesktop.dbus.connections.impl.DBusConnection;
import org.freedesktop.dbus.exceptions.DBusException;
import org.freedesktop.dbus.interfaces.ObjectManager;
import org.freedesktop.dbus.types.Variant;
import org.jspecify.annotations.Nullable;

/** What BlueZ knew at one moment: adapters, devices and characteristics with their properties, in the order of their paths. */
final class BluezObjects {
    static final String BUS_NAME = "org.bluez";
    static final String ADAPTER = "org.bluez.Adapter1";
    static final String DEVICE = "org.bluez.Device1";
    static final String CHARACTERISTIC = "org.bluez.GattCharacteristic1";

    private final TreeMap<String, Map<String, Map<String, Variant<?>>>> objects = new TreeMap<>();

    private BluezObjects() {}

    /** Asks BlueZ. */
    static BluezObjects read(DBusConnection bus) throws DBusException {
        BluezObjects out = new BluezObjects();
        Map<DBusPath, Map<String, Map<String, Variant<?>>>> all =
                bus.getRemoteObject(BUS_NAME, "/", ObjectManager.class).GetManagedObjects();
        all.forEach((path, interfaces) -> out.objects.put(path.getPath(), interfaces));
        return out;
    }

    /** Returns the paths of all adapters. */
    List<String> adapters() {
        return objects.keySet().stream().filter(p -> has(p, ADAPTER)).toList();
    }

    /** Returns the paths of all devices of an adapter. */
    List<String> devices(String adapter) {
        return objects.keySet().stream()
                .filter(p -> p.startsWith(adapter + "/") && has(p, DEVICE))
                .toList();
    }

    /** Tells whether an object has an interface. */
    boolean has(String path, String iface) {
        Map<String, Map<String, Variant<?>>> interfaces = objects.get(path);
        return interfaces != null && interfaces.containsKey(iface);
    }

    /** Returns the path of a characteristic of a device; absent where it has none. */
    @Nullable String characteristic(String device, String uuid) {
        for (String path : objects.keySet()) {
            if (path.startsWith(device + "/") && uuid.equals(text(path, CHARACTERISTIC, "UUID"))) {
                return path;
            }
        }
        return null;
    }

    /** Tells whether a device has told that it offers a service. */
    boolean offers(String device, String uuid) {
        Object uuids = value(device, DEVICE, "UUIDs");
        if (uuids instanceof String[] array) {
            return List.of(array).contains(uuid);
        }
        return uuids instanceof Collection<?> list && list.contains(uuid);
    }

    boolean flag(String path, String iface, String property) {
        return Boolean.TRUE.equals(value(path, iface, property));
    }

    String text(String path, String iface, String property) {
        Object value = value(path, iface, property);
        return value instanceof String text ? iface.equals(CHARACTERISTIC) ? text.toLowerCase(Locale.ROOT) : text : "";
    }

    int number(String path, String iface, String property, int otherwise) {
        return value(path, iface, property) instanceof Number number ? number.intValue() : otherwise;
    }

    private @Nullable Object value(String path, String iface, String property) {
        Map<String, Map<String, Variant<?>>> interfaces = objects.get(path);
        Map<String, Variant<?>> properties = interfaces == null ? null : interfaces.get(iface);
        Variant<?> variant = properties == null ? null : properties.get(property);
        return variant == null ? null : variant.getValue();
    }
}
