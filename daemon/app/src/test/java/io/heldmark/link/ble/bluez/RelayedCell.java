package io.heldmark.link.ble.bluez;

import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.bluez.Device1;
import org.bluez.GattService1;
import org.freedesktop.dbus.DBusPath;
import org.freedesktop.dbus.exceptions.DBusException;
import org.freedesktop.dbus.types.Variant;

/**
 * A cell that a program offers on an adapter of the stand-in, as the station sees it through the first adapter: what the station
 * asks of it is handed on to the program, and what the program notifies to the station.
 */
final class RelayedCell extends FakeObject implements Device1 {
    private final FakeBluez bluez;
    private final String program;
    private final Visitor visitor;
    private final List<FakeObject> services = new ArrayList<>();
    private final List<RelayedCharacteristic> characteristics = new ArrayList<>();
    private boolean connected;

    RelayedCell(
            FakeBluez bluez,
            FakeAdapter host,
            String program,
            Map<DBusPath, Map<String, Map<String, Variant<?>>>> objects,
            int mtu) {
        super(FakeBluez.ADAPTER + "/dev_" + host.address().replace(':', '_'), BluezObjects.DEVICE);
        this.bluez = bluez;
        this.program = program;
        visitor = new Visitor(host.getObjectPath() + "/dev_00_AA_01_00_00_00");
        properties.put("Address", new Variant<>(host.address()));
        properties.put("AddressType", new Variant<>("public"));
        properties.put("Adapter", new Variant<>(new DBusPath(FakeBluez.ADAPTER)));
        properties.put("Paired", new Variant<>(false));
        properties.put("Trusted", new Variant<>(false));
        properties.put("Connected", new Variant<>(false));
        properties.put("ServicesResolved", new Variant<>(false));
        properties.put("RSSI", new Variant<>((short) -48));
        Map<String, FakeObject> byOwnPath = new LinkedHashMap<>();
        objects.forEach((path, interfaces) -> {
            Map<String, Variant<?>> service = interfaces.get("org.bluez.GattService1");
            if (service != null) {
                FakeObject relayed = new Service(getObjectPath() + "/service" + byOwnPath.size(), service);
                byOwnPath.put(path.getPath(), relayed);
                services.add(relayed);
            }
        });
        objects.forEach((path, interfaces) -> {
            Map<String, Variant<?>> offered = interfaces.get(BluezObjects.CHARACTERISTIC);
            if (offered != null) {
                String parent = ((DBusPath) offered.get("Service").getValue()).getPath();
                String shownAt = byOwnPath.get(parent).getObjectPath() + "/char" + characteristics.size();
                characteristics.add(new RelayedCharacteristic(
                        bluez, program, path.getPath(), offered, shownAt, visitor.getObjectPath(), mtu));
            }
        });
    }

    /** One service. */
    private static final class Service extends FakeObject implements GattService1 {
        Service(String path, Map<String, Variant<?>> offered) {
            super(path, "org.bluez.GattService1");
            properties.putAll(offered);
        }
    }

    /** What the program sees of the station: a device that is connected, which it can disconnect. */
    private final class Visitor extends FakeObject implements Device1 {
        Visitor(String path) {
            super(path, BluezObjects.DEVICE);
            properties.put("Connected", new Variant<>(true));
        }

        @Override
        public void Disconnect() {
            end();
        }

        @Override
        public void Connect() {
            throw said("Operation is not supported");
        }

        @Override
        public void ConnectProfile(String uuid) {
            // Not used with GATT.
        }

        @Override
        public void DisconnectProfile(String uuid) {
            // Not used with GATT.
        }

        @Override
        public void Pair() {
            // Not asked for.
        }

        @Override
        public void CancelPairing() {
            // Not asked for.
        }
    }

    String program() {
        return program;
    }

    boolean isOf(String name) {
        return program.equals(name);
    }

    /** Takes what is advertised; who is not discoverable is not seen. */
    void advertise(Map<String, Variant<?>> advertised) {
        Variant<?> name = advertised.get("LocalName");
        properties.put("Name", new Variant<>(name.getValue()));
        properties.put("Alias", new Variant<>(name.getValue()));
        Object uuids = advertised.get("ServiceUUIDs").getValue();
        String[] array = uuids instanceof String[] given
                ? given
                : ((Collection<?>) uuids).stream().map(String::valueOf).toArray(String[]::new);
        boolean seen = Boolean.TRUE.equals(advertised.get("Discoverable").getValue())
                && "peripheral".equals(advertised.get("Type").getValue());
        properties.put("UUIDs", new Variant<>(seen ? array : new String[0]));
    }

    /** Returns a characteristic by its UUID. */
    RelayedCharacteristic characteristic(String uuid) {
        return characteristics.stream()
                .filter(c -> uuid.equals(c.properties.get("UUID").getValue()))
                .findFirst()
                .orElseThrow();
    }

    void appear() {
        show(this);
    }

    /** Ends the connection and is seen no more. */
    void vanish() {
        end();
        bluez.hide(this);
    }

    private void show(FakeObject object) {
        try {
            bluez.show(object);
        } catch (DBusException e) {
            throw new IllegalStateException(e);
        }
    }

    @Override
    public synchronized void Connect() {
        connected = true;
        bluez.changed(this, "Connected", new Variant<>(true));
        show(visitor);
        services.forEach(this::show);
        characteristics.forEach(this::show);
        bluez.changed(this, "ServicesResolved", new Variant<>(true));
    }

    private synchronized void end() {
        if (!connected) {
            return;
        }
        connected = false;
        characteristics.forEach(RelayedCharacteristic::end);
        characteristics.forEach(bluez::hide);
        services.forEach(bluez::hide);
        bluez.hide(visitor);
        bluez.changed(this, "ServicesResolved", new Variant<>(false));
        bluez.changed(this, "Connected", new Variant<>(false));
    }

    @Override
    public void Disconnect() {
        end();
    }

    @Override
    public void ConnectProfile(String uuid) {
        // Not used with GATT.
    }

    @Override
    public void DisconnectProfile(String uuid) {
        // Not used with GATT.
    }

    @Override
    public void Pair() {
        // Needs no pairing.
    }

    @Override
    public void CancelPairing() {
        // Needs no pairing.
    }
}
