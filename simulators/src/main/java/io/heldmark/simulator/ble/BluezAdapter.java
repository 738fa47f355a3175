package io.heldmark.simulator.ble;

import io.heldmark.simulator.sender.PortException;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.bluez.GattManager1;
import org.bluez.LEAdvertisingManager1;
import org.freedesktop.dbus.DBusPath;
import org.freedesktop.dbus.connections.impl.DBusConnection;
import org.freedesktop.dbus.exceptions.DBusException;
import org.freedesktop.dbus.exceptions.DBusExecutionException;
import org.freedesktop.dbus.interfaces.DBusInterface;
import org.freedesktop.dbus.interfaces.ObjectManager;
import org.freedesktop.dbus.interfaces.Properties;
import org.freedesktop.dbus.types.Variant;
import org.jspecify.annotations.Nullable;

/** An adapter that offers services and advertises for us, or the words why it does not. */
final class BluezAdapter {
    static final String BLUEZ = "org.bluez";

    private static final String ADAPTER = "org.bluez.Adapter1";
    private static final String GATT = "org.bluez.GattManager1";
    private static final String ADVERTISING = "org.bluez.LEAdvertisingManager1";

    private final DBusConnection bus;
    private final String path;
    private final String name;
    private final Map<String, Map<String, Variant<?>>> interfaces;

    private BluezAdapter(DBusConnection bus, String path, Map<String, Map<String, Variant<?>>> interfaces) {
        this.bus = bus;
        this.path = path;
        this.interfaces = interfaces;
        name = path.substring(path.lastIndexOf('/') + 1);
    }

    /**
     * Finds an adapter, switches it on, and looks whether it can be a cell.
     *
     * @param wanted its name, for example {@code hci1}; empty for the first.
     * @throws PortException if there is none, or it cannot, in plain words.
     */
    static BluezAdapter find(DBusConnection bus, String wanted) {
        Map<String, Map<String, Map<String, Variant<?>>>> adapters = adapters(bus);
        if (adapters.isEmpty()) {
            throw new PortException("no Bluetooth adapter: plug one in (sudo dmesg names a missing driver)");
        }
        String path = wanted.isEmpty() ? adapters.keySet().iterator().next() : "/org/bluez/" + wanted;
        Map<String, Map<String, Variant<?>>> interfaces = adapters.get(path);
        if (interfaces == null) {
            throw new PortException("no Bluetooth adapter " + wanted + "; there are " + names(adapters.keySet()));
        }
        BluezAdapter found = new BluezAdapter(bus, path, interfaces);
        found.switchOn();
        found.check();
        return found;
    }

    private static Map<String, Map<String, Map<String, Variant<?>>>> adapters(DBusConnection bus) {
        try {
            Map<String, Map<String, Map<String, Variant<?>>>> found = new TreeMap<>();
            bus.getRemoteObject(BLUEZ, "/", ObjectManager.class)
                    .GetManagedObjects()
                    .forEach((path, all) -> {
                        if (all.containsKey(ADAPTER)) {
                            found.put(path.getPath(), all);
                        }
                    });
            return found;
        } catch (DBusException | DBusExecutionException e) {
            throw BluezRefusal.of("adapters cannot be listed", e);
        }
    }

    private static String names(Collection<String> paths) {
        return String.join(
                ", ",
                paths.stream().map(p -> p.substring(p.lastIndexOf('/') + 1)).toList());
    }

    private @Nullable Object value(String iface, String property) {
        Map<String, Variant<?>> properties = interfaces.get(iface);
        Variant<?> variant = properties == null ? null : properties.get(property);
        return variant == null ? null : variant.getValue();
    }

    private void switchOn() {
        if (Boolean.TRUE.equals(value(ADAPTER, "Powered"))) {
            return;
        }
        try {
            remote(Properties.class).Set(ADAPTER, "Powered", new Variant<>(true));
        } catch (DBusException | DBusExecutionException e) {
            throw BluezRefusal.of("adapter " + name + " is off and cannot be switched on", e);
        }
    }

    private void check() {
        if (!interfaces.containsKey(GATT)) {
            throw new PortException("adapter " + name + " offers no services: " + BluezRefusal.NEEDED);
        }
        if (has("UUIDs", GattNames.SERVICE)) {
            throw new PortException(
                    "adapter " + name + " is a cell already, and can be only one: end the other program");
        }
        if (!interfaces.containsKey(ADVERTISING) || cannotBePeripheral()) {
            throw new PortException("adapter " + name + " cannot advertise: take another one");
        }
        if (value(ADVERTISING, "SupportedInstances") instanceof Number places && places.intValue() == 0) {
            throw new PortException("adapter " + name
                    + " has no place left to advertise: end the other programs that do (bluetoothctl show)");
        }
    }

    /** BlueZ tells the roles since 5.54; where it does not, trying is the only way. */
    private boolean cannotBePeripheral() {
        return value(ADAPTER, "Roles") != null && !has("Roles", "peripheral");
    }

    private boolean has(String property, String text) {
        Object texts = value(ADAPTER, property);
        if (texts instanceof String[] array) {
            return List.of(array).contains(text);
        }
        return texts instanceof Collection<?> list && list.contains(text);
    }

    /** Returns its Bluetooth address. */
    String address() {
        return String.valueOf(value(ADAPTER, "Address"));
    }

    private <T extends DBusInterface> T remote(Class<T> type) throws DBusException {
        return bus.getRemoteObject(BLUEZ, path, type);
    }

    /** Offers the services. */
    void offer(ServedTree tree) {
        try {
            remote(GattManager1.class).RegisterApplication(new DBusPath(tree.getObjectPath()), Map.of());
        } catch (DBusException | DBusExecutionException e) {
            throw BluezRefusal.of("adapter " + name + " does not take the cell's services", e);
        }
    }

    /** Takes the services back, if they are still there. */
    void withdraw(ServedTree tree) {
        try {
            remote(GattManager1.class).UnregisterApplication(new DBusPath(tree.getObjectPath()));
        } catch (DBusException | DBusExecutionException e) {
            // Gone with BlueZ or the adapter: just what was wanted.
        }
    }

    /** Advertises. */
    void advertise(ServedAdvertisement advertisement) {
        try {
            remote(LEAdvertisingManager1.class)
                    .RegisterAdvertisement(new DBusPath(advertisement.getObjectPath()), Map.of());
        } catch (DBusException | DBusExecutionException e) {
            throw BluezRefusal.of("adapter " + name + " does not advertise", e);
        }
    }

    /** Stops advertising, if it does. */
    void silence(ServedAdvertisement advertisement) {
        try {
            remote(LEAdvertisingManager1.class).UnregisterAdvertisement(new DBusPath(advertisement.getObjectPath()));
        } catch (DBusException | DBusExecutionException e) {
            // Gone with BlueZ or the adapter: just what was wanted.
        }
    }
}
