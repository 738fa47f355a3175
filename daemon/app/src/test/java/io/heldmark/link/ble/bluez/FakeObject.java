package io.heldmark.link.ble.bluez;

import java.util.LinkedHashMap;
import java.util.Map;
import org.freedesktop.dbus.exceptions.DBusExecutionException;
import org.freedesktop.dbus.interfaces.Properties;
import org.freedesktop.dbus.types.Variant;

/** One object of the stand-in: an interface with its properties, and perhaps others. */
abstract class FakeObject implements Properties {
    final String iface;
    final Map<String, Variant<?>> properties = new LinkedHashMap<>();

    /** What it has besides, by interface. */
    final Map<String, Map<String, Variant<?>>> others = new LinkedHashMap<>();

    private final String path;

    FakeObject(String path, String iface) {
        this.path = path;
        this.iface = iface;
    }

    @Override
    public String getObjectPath() {
        return path;
    }

    @Override
    @SuppressWarnings({"unchecked", "TypeParameterUnusedInFormals"}) // The library's signature.
    public <A> A Get(String interfaceName, String property) {
        return (A) GetAll(interfaceName).get(property);
    }

    @Override
    public <A> void Set(String interfaceName, String property, A value) {
        properties.put(property, value instanceof Variant<?> variant ? variant : new Variant<>(value));
    }

    @Override
    public Map<String, Variant<?>> GetAll(String interfaceName) {
        return interfaces().getOrDefault(interfaceName, Map.of());
    }

    /** Returns all interfaces with their properties. */
    Map<String, Map<String, Variant<?>>> interfaces() {
        Map<String, Map<String, Variant<?>>> all = new LinkedHashMap<>(others);
        all.put(iface, properties);
        return all;
    }

    /** Returns an error of BlueZ's: of its own kinds a client of this library sees the text only. */
    static DBusExecutionException said(String text) {
        return new DBusExecutionException(text);
    }
}
