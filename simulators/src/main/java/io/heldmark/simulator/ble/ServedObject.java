package io.heldmark.simulator.ble;

import java.util.LinkedHashMap;
import java.util.Map;
import org.freedesktop.dbus.DBusPath;
import org.freedesktop.dbus.interfaces.Properties;
import org.freedesktop.dbus.types.Variant;
import org.jspecify.annotations.Nullable;

/** An object that BlueZ reads: one interface with properties that stay as they are. */
abstract class ServedObject implements Properties {
    private final String path;
    private final String iface;
    private final Map<String, Variant<?>> properties = new LinkedHashMap<>();

    ServedObject(String path, String iface) {
        this.path = path;
        this.iface = iface;
    }

    /** Adds a text, a truth value, a path, or an array of texts. */
    final void put(String name, Object value) {
        properties.put(name, new Variant<>(value));
    }

    /** Returns the name of its interface. */
    final String iface() {
        return iface;
    }

    /** Returns the interface with its properties, as an object manager tells them. */
    final Map<String, Map<String, Variant<?>>> described() {
        return Map.of(iface, properties);
    }

    final DBusPath dbusPath() {
        return new DBusPath(path);
    }

    @Override
    public final String getObjectPath() {
        return path;
    }

    @Override
    @SuppressWarnings({"unchecked", "TypeParameterUnusedInFormals"}) // The library's signature.
    public final <A> @Nullable A Get(String interfaceName, String property) {
        return interfaceName.equals(iface) ? (A) properties.get(property) : null;
    }

    @Override
    public final <A> void Set(String interfaceName, String property, A value) {
        throw new UnsupportedOperationException("properties of a cell are read only: " + property);
    }

    @Override
    public final Map<String, Variant<?>> GetAll(String interfaceName) {
        return interfaceName.equals(iface) ? properties : Map.of();
    }
}
