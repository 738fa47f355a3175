package io.heldmark.link.ble.bluez;

import io.heldmark.link.ble.GattNames;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import org.bluez.Adapter1;
import org.bluez.GattManager1;
import org.bluez.LEAdvertisement1;
import org.bluez.LEAdvertisingManager1;
import org.freedesktop.dbus.DBusPath;
import org.freedesktop.dbus.connections.impl.DBusConnection;
import org.freedesktop.dbus.exceptions.DBusException;
import org.freedesktop.dbus.exceptions.DBusExecutionException;
import org.freedesktop.dbus.interfaces.ObjectManager;
import org.freedesktop.dbus.interfaces.Properties;
import org.freedesktop.dbus.types.UInt32;
import org.freedesktop.dbus.types.Variant;
import org.jspecify.annotations.Nullable;

/**
 * An adapter of the stand-in. As a central it finds cells while it looks for them; as a peripheral it takes the services and the
 * advertisement of one program, with BlueZ's rules (5.66, src/gatt-database.c and src/advertising.c), and shows them to the first
 * adapter.
 */
final class FakeAdapter extends FakeObject implements Adapter1, GattManager1, LEAdvertisingManager1 {
    static final String GATT = "org.bluez.GattManager1";
    static final String ADVERTISING = "org.bluez.LEAdvertisingManager1";

    private static final String SERVICE = "org.bluez.GattService1";
    private static final List<String> BLUEZ_OWN = List.of("00001800", "00001801");

    private final FakeBluez bluez;
    private final String address;
    private volatile @Nullable Map<String, Variant<?>> filter;
    private final Map<String, RuntimeException> refusals = new ConcurrentHashMap<>();
    private volatile int mtu = 247;
    private @Nullable RelayedCell offered;
    private @Nullable String advertisement;

    FakeAdapter(FakeBluez bluez, String path, String address, boolean powered) {
        super(path, BluezObjects.ADAPTER);
        this.bluez = bluez;
        this.address = address;
        properties.put("Address", new Variant<>(address));
        properties.put("AddressType", new Variant<>("public"));
        properties.put("Name", new Variant<>("stand-in"));
        properties.put("Alias", new Variant<>("stand-in"));
        properties.put("Class", new Variant<>(new UInt32(0)));
        properties.put("Discovering", new Variant<>(false));
        properties.put("UUIDs", new Variant<>(new String[0]));
        properties.put("Powered", new Variant<>(powered));
        properties.put("Roles", new Variant<>(new String[] {"central", "peripheral"}));
        others.put(GATT, new LinkedHashMap<>());
        Map<String, Variant<?>> advertising = new LinkedHashMap<>();
        advertising.put("ActiveInstances", new Variant<>((byte) 0));
        advertising.put("SupportedInstances", new Variant<>((byte) 5));
        others.put(ADVERTISING, advertising);
    }

    /** Refuses a call, or to have a property set, from now on. */
    void refuse(String member, RuntimeException with) {
        refusals.put(member, with);
    }

    /** Refuses nothing any more. */
    void relent() {
        refusals.clear();
    }

    private void refuseIfTold(String member) {
        RuntimeException with = refusals.get(member);
        if (with != null) {
            throw with;
        }
    }

    /** Agrees on packets of this size with centrals. */
    void agreeOn(int attMtu) {
        mtu = attMtu;
    }

    /** Returns what was looked for last. */
    @Nullable Map<String, Variant<?>> filter() {
        return filter;
    }

    /** Returns the cell that a program offers and advertises here. */
    synchronized @Nullable RelayedCell advertised() {
        return advertisement == null ? null : offered;
    }

    /** Returns whether a program offers services here. */
    synchronized boolean isOffered() {
        return offered != null;
    }

    /** Lets the cell that is offered here be seen. */
    synchronized void appear() {
        RelayedCell cell = advertised();
        if (cell != null) {
            cell.appear();
        }
    }

    /** A program has gone: what it offered goes with it. */
    synchronized void forget(String program) {
        RelayedCell cell = offered;
        if (cell != null && cell.isOf(program)) {
            cell.vanish();
            offered = null;
            advertisement = null;
        }
    }

    /** The adapter goes: the program is told that its advertisement is dropped, and of its services nothing. */
    synchronized void release() {
        RelayedCell cell = offered;
        String path = advertisement;
        if (cell == null || path == null) {
            return;
        }
        cell.vanish();
        offered = null;
        advertisement = null;
        try {
            bluez.remote(cell.program(), path, LEAdvertisement1.class).Release();
        } catch (DBusException | DBusExecutionException e) {
            throw new IllegalStateException(e);
        }
    }

    @Override
    public <A> void Set(String interfaceName, String property, A value) {
        refuseIfTold(property);
        super.Set(interfaceName, property, value);
    }

    // ---- GattManager1 ----

    @Override
    public void RegisterApplication(DBusPath root, Map<String, Variant<?>> options) {
        refuseIfTold("RegisterApplication");
        String program = DBusConnection.getCallInfo().getSource();
        if (isOffered()) {
            throw said("Already Exists");
        }
        properties.put("UUIDs", new Variant<>(new String[] {GattNames.SERVICE}));
        Map<DBusPath, Map<String, Map<String, Variant<?>>>> objects;
        try {
            objects = bluez.remote(program, root.getPath(), ObjectManager.class).GetManagedObjects();
        } catch (DBusException e) {
            throw said("No object received");
        }
        boolean services = objects.values().stream().anyMatch(o -> o.containsKey(SERVICE));
        if (!services || objects.values().stream().anyMatch(FakeAdapter::isReserved)) {
            throw said("No valid service object found");
        }
        synchronized (this) {
            offered = new RelayedCell(bluez, this, program, objects, mtu);
        }
    }

    private static boolean isReserved(Map<String, Map<String, Variant<?>>> interfaces) {
        Map<String, Variant<?>> service = interfaces.get(SERVICE);
        return service != null
                && BLUEZ_OWN.contains(service.get("UUID").getValue().toString().substring(0, 8));
    }

    @Override
    public synchronized void UnregisterApplication(DBusPath root) {
        RelayedCell cell = offered;
        if (cell == null) {
            throw said("Does Not Exist");
        }
        cell.vanish();
        offered = null;
        properties.put("UUIDs", new Variant<>(new String[0]));
    }

    // ---- LEAdvertisingManager1 ----

    @Override
    public void RegisterAdvertisement(DBusPath path, Map<String, Variant<?>> options) {
        refuseIfTold("RegisterAdvertisement");
        String program = DBusConnection.getCallInfo().getSource();
        Map<String, Variant<?>> advertised;
        try {
            advertised = bluez.remote(program, path.getPath(), Properties.class).GetAll("org.bluez.LEAdvertisement1");
        } catch (DBusException e) {
            throw said("Failed to parse advertisement.");
        }
        synchronized (this) {
            if (advertisement != null) {
                throw said("Maximum advertisements reached");
            }
            RelayedCell cell = offered;
            if (cell != null) {
                cell.advertise(advertised);
            }
            advertisement = path.getPath();
        }
    }

    @Override
    public synchronized void UnregisterAdvertisement(DBusPath path) {
        if (!path.getPath().equals(advertisement)) {
            throw said("Does Not Exist");
        }
        advertisement = null;
    }

    String address() {
        return address;
    }

    // ---- Adapter1 ----

    @Override
    public void StartDiscovery() {
        refuseIfTold("StartDiscovery");
        bluez.look();
    }

    @Override
    public void StopDiscovery() {
        // Cells that were seen stay known.
    }

    @Override
    public void RemoveDevice(DBusPath device) {
        // Not asked for by the station.
    }

    @Override
    public void SetDiscoveryFilter(Map<String, Variant<?>> wanted) {
        refuseIfTold("SetDiscoveryFilter");
        filter = wanted;
    }

    @Override
    public String[] GetDiscoveryFilters() {
        return new String[0];
    }

    @Override
    public @Nullable DBusPath ConnectDevice(Map<String, Variant<?>> options) {
        return null;
    }
}
