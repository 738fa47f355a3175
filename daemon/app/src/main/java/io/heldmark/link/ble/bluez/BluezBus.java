package io.heldmark.link.ble.bluez;

import io.heldmark.link.stream.UnavailableException;
import io.heldmark.link.stream.UnavailableException.Kind;
import org.freedesktop.dbus.connections.impl.DBusConnection;
import org.freedesktop.dbus.connections.impl.DBusConnectionBuilder;
import org.freedesktop.dbus.exceptions.DBusException;
import org.jspecify.annotations.Nullable;

/** The system bus, connected when first needed and again when it went away. */
final class BluezBus {
    private final String address;
    private @Nullable DBusConnection connection;

    /** Makes it for a bus address; empty for the system bus. */
    BluezBus(String address) {
        this.address = address;
    }

    /**
     * Returns a live connection.
     *
     * @throws UnavailableException if there is no system bus.
     */
    synchronized DBusConnection get() throws UnavailableException {
        DBusConnection open = connection;
        if (open != null && open.isConnected()) {
            return open;
        }
        open = open();
        connection = open;
        return open;
    }

    /**
     * Returns a connection that is the caller's own, to be disconnected by it.
     *
     * @throws UnavailableException if there is no system bus.
     */
    DBusConnection open() throws UnavailableException {
        try {
            DBusConnectionBuilder builder = address.isEmpty()
                    ? DBusConnectionBuilder.forSystemBus()
                    : DBusConnectionBuilder.forAddress(address);
            return builder.withShared(false).build();
        } catch (DBusException | RuntimeException e) {
            throw new UnavailableException(
                    Kind.REFUSED,
                    "the system bus (D-Bus) cannot be reached: is dbus running? (" + e.getMessage() + ")");
        }
    }
}
