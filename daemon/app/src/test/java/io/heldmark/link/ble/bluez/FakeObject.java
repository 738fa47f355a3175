package io.heldmark.link.ble.bluez;

import java.util.LinkedHashMap;
import java.util.Map;
import org.freedesktop.dbus.interfaces.Properties;
import org.freedesktop.dbus.types.Variant;

/** One object of the stand-in with one interface and its properties. */
abstract class FakeObject implements Properties {
    final String iface;
    final Map<String, Variant<?>> properties = new LinkedHashMap<>();
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
        return (A) properties.get(property);
    }

    @Override
    public <A> void Set(String interfaceName, String property, A value) {
        properties.put(property, value instanceof Variant<?> variant ? variant : new Variant<>(value));
    }

    @Override
    public Map<String, Variant<?>> GetAll(String interfaceName) {
        return interfaceName.equals(iface) ? properties : Map.of();
    }
}
