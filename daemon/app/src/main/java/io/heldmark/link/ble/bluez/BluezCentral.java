package io.heldmark.link.ble.bluez;

import io.heldmark.link.ble.CellInRange;
import io.heldmark.link.ble.GattCentral;
import io.heldmark.link.ble.GattNames;
import io.heldmark.link.ble.GattPeer;
import io.heldmark.link.stream.UnavailableException;
import io.heldmark.link.stream.UnavailableException.Kind;
import java.util.ArrayList;
import java.util.List;
import org.freedesktop.dbus.connections.impl.DBusConnection;
import org.freedesktop.dbus.exceptions.DBusException;
import org.freedesktop.dbus.exceptions.DBusExecutionException;
import org.freedesktop.dbus.interfaces.Properties;
import org.freedesktop.dbus.types.Variant;
import org.jspecify.annotations.Nullable;

/**
 * BlueZ as the station's Bluetooth stack.
 *
 * <p><b>Finding.</b> By the advertised service, never by name. Several links may look at once: discovery runs while any does.
 * Connections are made one after the other, which adapters take better than all at once (common practice, no published
 * source).
 */
public final class BluezCentral implements GattCentral {
    private static final long FIND_MS = 5000;
    private static final long LOOK_EVERY_MS = 100;

    private final BluezBus bus;
    private final PairingAgent agent = new PairingAgent();
    private final Object connecting = new Object();
    private final Discovery discovery = new Discovery();
    private @Nullable DBusConnection withAgent;

    /** Makes it on the system bus. */
    public BluezCentral() {
        this("");
    }

    /** Makes it on the bus of an address; empty for the system bus. */
    BluezCentral(String busAddress) {
        bus = new BluezBus(busAddress);
    }

    @Override
    public String name() {
        return "bluez";
    }

    @Override
    public GattPeer connect(String adapter, String address, String passkey, Listener listener)
            throws UnavailableException {
        DBusConnection connection = bus();
        try {
            String adapterPath = adapter(connection, adapter);
            String device = adapterPath + "/dev_" + address.replace(':', '_');
            if (!isPresent(BluezObjects.read(connection), device)) {
                find(connection, adapterPath, device, address);
            }
            synchronized (connecting) {
                return connect(connection, device, passkey, listener);
            }
        } catch (DBusException | DBusExecutionException e) {
            throw BluezReasons.of(e);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new UnavailableException(Kind.UNREACHABLE, "interrupted");
        }
    }

    private GattPeer connect(DBusConnection shared, String device, String passkey, Listener listener)
            throws DBusException, UnavailableException, InterruptedException {
        DBusConnection own = bus.open();
        BluezPeer peer = null;
        try {
            peer = BluezPeer.connect(own, device, () -> agent.pair(shared, device, passkey), listener);
            return peer;
        } finally {
            if (peer == null) {
                own.disconnect();
            }
        }
    }

    @Override
    public List<CellInRange> cells(String adapter, long forMs) throws UnavailableException {
        DBusConnection connection = bus();
        try {
            String adapterPath = adapter(connection, adapter);
            discovery.begin(connection, adapterPath);
            try {
                Thread.sleep(forMs);
                return cells(BluezObjects.read(connection), adapterPath);
            } finally {
                discovery.end(connection, adapterPath);
            }
        } catch (DBusException | DBusExecutionException e) {
            throw BluezReasons.of(e);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            return List.of();
        }
    }

    /** Returns a live connection; a new one gets the agent. */
    private DBusConnection bus() throws UnavailableException {
        DBusConnection connection = bus.get();
        synchronized (agent) {
            if (!connection.equals(withAgent)) {
                withAgent = connection;
                agent.begin(connection);
            }
        }
        return connection;
    }

    private static List<CellInRange> cells(BluezObjects objects, String adapter) {
        List<CellInRange> cells = new ArrayList<>();
        for (String device : objects.devices(adapter)) {
            if (objects.offers(device, GattNames.SERVICE) && isPresent(objects, device)) {
                cells.add(new CellInRange(
                        objects.text(device, BluezObjects.DEVICE, "Address"),
                        objects.text(device, BluezObjects.DEVICE, "Name"),
                        objects.number(device, BluezObjects.DEVICE, "RSSI", CellInRange.RSSI_UNKNOWN),
                        objects.flag(device, BluezObjects.DEVICE, "Paired"),
                        objects.flag(device, BluezObjects.DEVICE, "Connected")));
            }
        }
        return cells;
    }

    /** BlueZ remembers devices that are gone; one that is there has a signal strength or a connection. */
    private static boolean isPresent(BluezObjects objects, String device) {
        return objects.flag(device, BluezObjects.DEVICE, "Connected")
                || objects.number(device, BluezObjects.DEVICE, "RSSI", CellInRange.RSSI_UNKNOWN)
                        != CellInRange.RSSI_UNKNOWN;
    }

    private static String adapter(DBusConnection connection, String wanted) throws UnavailableException, DBusException {
        BluezObjects objects = BluezObjects.read(connection);
        List<String> adapters = objects.adapters();
        if (adapters.isEmpty()) {
            throw new UnavailableException(
                    Kind.REFUSED, "no Bluetooth adapter: plug one in, or choose another link (heldmark ports)");
        }
        String path = wanted.isEmpty() ? adapters.get(0) : "/org/bluez/" + wanted;
        if (!adapters.contains(path)) {
            throw new UnavailableException(Kind.REFUSED, "no adapter " + wanted + "; there are " + adapters);
        }
        if (!objects.flag(path, BluezObjects.ADAPTER, "Powered")) {
            switchOn(connection, path);
        }
        return path;
    }

    private static void switchOn(DBusConnection connection, String adapter) throws UnavailableException {
        try {
            connection
                    .getRemoteObject(BluezObjects.BUS_NAME, adapter, Properties.class)
                    .Set(BluezObjects.ADAPTER, "Powered", new Variant<>(true));
        } catch (DBusException | DBusExecutionException e) {
            throw BluezReasons.switchingOn(adapter.substring(adapter.lastIndexOf('/') + 1), e);
        }
    }

    private void find(DBusConnection connection, String adapter, String device, String address)
            throws UnavailableException, DBusException, InterruptedException {
        discovery.begin(connection, adapter);
        try {
            for (long waitedMs = 0; waitedMs < FIND_MS; waitedMs += LOOK_EVERY_MS) {
                if (isPresent(BluezObjects.read(connection), device)) {
                    return;
                }
                Thread.sleep(LOOK_EVERY_MS);
            }
        } finally {
            discovery.end(connection, adapter);
        }
        throw new UnavailableException(
                Kind.ABSENT,
                "cell " + address + " is not in range, switched off, or connected to another device"
                        + " (a connected cell cannot be seen)");
    }
}
