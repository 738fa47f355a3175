package io.heldmark.link.ble.bluez;

import io.heldmark.link.ble.GattNames;
import java.util.HashMap;
import java.util.Map;
import org.bluez.Adapter1;
import org.freedesktop.dbus.connections.impl.DBusConnection;
import org.freedesktop.dbus.exceptions.DBusException;
import org.freedesktop.dbus.exceptions.DBusExecutionException;
import org.freedesktop.dbus.types.Variant;

/**
 * Looking for cells: each adapter looks while any link wants it to.
 *
 * <p>Every link that begins asks BlueZ, also where another is looking already: BlueZ may have been started anew in between, and
 * then knows nothing of it.
 */
final class Discovery {
    private final Map<String, Integer> looking = new HashMap<>();

    /** Begins for one link; to be ended by {@link #end} where it returns. */
    synchronized void begin(DBusConnection connection, String adapter) throws DBusException {
        Adapter1 remote = connection.getRemoteObject(BluezObjects.BUS_NAME, adapter, Adapter1.class);
        Map<String, Variant<?>> filter = new HashMap<>();
        filter.put("Transport", new Variant<>("le"));
        filter.put("UUIDs", new Variant<>(new String[] {GattNames.SERVICE}));
        remote.SetDiscoveryFilter(filter);
        try {
            remote.StartDiscovery();
        } catch (DBusException | DBusExecutionException e) {
            if (!BluezReasons.goesOn(e)) {
                throw e;
            }
        }
        looking.merge(adapter, 1, Integer::sum);
    }

    /** Ends for one link. */
    synchronized void end(DBusConnection connection, String adapter) {
        if (looking.merge(adapter, -1, Integer::sum) > 0) {
            return;
        }
        looking.remove(adapter);
        try {
            connection
                    .getRemoteObject(BluezObjects.BUS_NAME, adapter, Adapter1.class)
                    .StopDiscovery();
        } catch (DBusException | DBusExecutionException e) {
            // Whoever took the adapter away has ended the discovery as well.
        }
    }
}
