package io.heldmark.link.ble.bluez;

import io.heldmark.simulator.VirtualCell;
import io.heldmark.simulator.scenario.Scenario;
import io.heldmark.simulator.sender.Endpoint;
import io.heldmark.simulator.sender.Pace;
import java.io.File;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.concurrent.ConcurrentSkipListMap;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import org.bluez.Adapter1;
import org.bluez.Agent1;
import org.bluez.AgentManager1;
import org.bluez.exceptions.BluezAlreadyExistsException;
import org.freedesktop.dbus.DBusPath;
import org.freedesktop.dbus.connections.impl.DBusConnection;
import org.freedesktop.dbus.connections.impl.DBusConnectionBuilder;
import org.freedesktop.dbus.exceptions.DBusException;
import org.freedesktop.dbus.interfaces.ObjectManager;
import org.freedesktop.dbus.types.UInt32;
import org.freedesktop.dbus.types.Variant;
import org.jspecify.annotations.Nullable;

/**
 * A stand-in for BlueZ on a bus of its own: one adapter, and virtual cells that speak the GATT binding in real time. No
 * Bluetooth hardware, no kernel support, no root.
 */
final class FakeBluez implements AutoCloseable {
    static final String ADAPTER = "/org/bluez/hci0";

    private final Process daemon;
    private final String address;
    private final DBusConnection bus;
    private final Map<String, FakeObject> visible = new ConcurrentSkipListMap<>();
    private final Map<String, FakeCell> cells = new LinkedHashMap<>();
    private volatile @Nullable String agentOwner;
    private volatile @Nullable String agentPath;

    /** Returns whether the machine has a bus to run this on. */
    static boolean isPossible() {
        return Stream.of(System.getenv("PATH").split(File.pathSeparator))
                .anyMatch(p -> Files.isExecutable(Path.of(p, "dbus-daemon")));
    }

    FakeBluez(Path folder) throws Exception {
        Path socket = folder.resolve("bus");
        address = "unix:path=" + socket;
        Path config = folder.resolve("bus.conf");
        Files.writeString(config, """
                <!DOCTYPE busconfig PUBLIC "-//freedesktop//DTD D-Bus Bus Configuration 1.0//EN"
                 "http://www.freedesktop.org/standards/dbus/1.0/busconfig.dtd">
                <busconfig><type>custom</type><listen>%s</listen><auth>EXTERNAL</auth>
                <policy context="default"><allow send_destination="*" eavesdrop="true"/><allow eavesdrop="true"/>
                <allow own="*"/></policy></busconfig>
                """.formatted(address));
        daemon = new ProcessBuilder("dbus-daemon", "--config-file=" + config, "--nofork", "--nopidfile")
                .redirectErrorStream(true)
                .redirectOutput(folder.resolve("bus.log").toFile())
                .start();
        for (int i = 0; i < 200 && !Files.exists(socket); i++) {
            Thread.sleep(25);
        }
        bus = DBusConnectionBuilder.forAddress(address).withShared(false).build();
        bus.exportObject(new Root());
        bus.exportObject(new Agents());
    }

    String busAddress() {
        return address;
    }

    /** Takes BlueZ's name, with an adapter. */
    Adapter start(boolean powered) throws DBusException {
        Adapter adapter = new Adapter(powered);
        show(adapter);
        bus.requestBusName("org.bluez");
        return adapter;
    }

    /** Takes BlueZ's name, without an adapter. */
    void startWithoutAdapter() throws DBusException {
        bus.requestBusName("org.bluez");
    }

    /** Puts a cell in range once somebody looks for it. */
    FakeCell addCell(String cellAddress, Scenario scenario, int index, FakeCell.Kind kind) throws DBusException {
        FakeCell cell = new FakeCell(this, cellAddress, kind);
        cells.put(cell.path(), cell);
        cell.run(new Endpoint(scenario.cells().get(index).name(), new VirtualCell(scenario, index), cell, new Pace(1)));
        return cell;
    }

    void show(FakeObject object) throws DBusException {
        if (visible.putIfAbsent(object.getObjectPath(), object) == null) {
            bus.exportObject(object);
            bus.sendMessage(new ObjectManager.InterfacesAdded(
                    "/", new DBusPath(object.getObjectPath()), Map.of(object.iface, object.properties)));
        }
    }

    void hide(FakeObject object) {
        if (visible.remove(object.getObjectPath()) != null) {
            try {
                bus.sendMessage(new ObjectManager.InterfacesRemoved(
                        "/", new DBusPath(object.getObjectPath()), List.of(object.iface)));
            } catch (DBusException e) {
                throw new IllegalStateException(e);
            }
            bus.unExportObject(object.getObjectPath());
        }
    }

    void changed(FakeObject object, String property, Variant<?> value) {
        object.properties.put(property, value);
        try {
            bus.sendMessage(new org.freedesktop.dbus.interfaces.Properties.PropertiesChanged(
                    object.getObjectPath(), object.iface, Map.of(property, value), List.of()));
        } catch (DBusException e) {
            throw new IllegalStateException(e);
        }
    }

    @Override
    public void close() {
        cells.values().forEach(FakeCell::stop);
        bus.disconnect();
        daemon.destroy();
        try {
            daemon.waitFor(5, TimeUnit.SECONDS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    /** Knows who answers when a cell asks to be paired. */
    private final class Agents implements AgentManager1 {
        @Override
        public String getObjectPath() {
            return "/org/bluez";
        }

        @Override
        public void RegisterAgent(DBusPath agent, String capability) throws BluezAlreadyExistsException {
            if (agentOwner != null) {
                throw new BluezAlreadyExistsException("Already Exists");
            }
            agentOwner = DBusConnection.getCallInfo().getSource();
            agentPath = agent.getPath();
        }

        @Override
        public void UnregisterAgent(DBusPath agent) {
            agentOwner = null;
        }

        @Override
        public void RequestDefaultAgent(DBusPath agent) {
            // There is one.
        }
    }

    private final class Root implements ObjectManager {
        @Override
        public String getObjectPath() {
            return "/";
        }

        @Override
        public Map<DBusPath, Map<String, Map<String, Variant<?>>>> GetManagedObjects() {
            Map<DBusPath, Map<String, Map<String, Variant<?>>>> all = new LinkedHashMap<>();
            visible.forEach((path, o) -> all.put(new DBusPath(path), Map.of(o.iface, o.properties)));
            return all;
        }
    }

    /** The adapter; cells appear while it looks for them. */
    final class Adapter extends FakeObject implements Adapter1 {
        private @Nullable Map<String, Variant<?>> filter;

        Adapter(boolean powered) {
            super(ADAPTER, BluezObjects.ADAPTER);
            properties.put("Address", new Variant<>("00:AA:01:00:00:00"));
            properties.put("AddressType", new Variant<>("public"));
            properties.put("Name", new Variant<>("stand-in"));
            properties.put("Alias", new Variant<>("stand-in"));
            properties.put("Class", new Variant<>(new UInt32(0)));
            properties.put("Discovering", new Variant<>(false));
            properties.put("UUIDs", new Variant<>(new String[0]));
            properties.put("Powered", new Variant<>(powered));
        }

        /** Returns the agent that the station registered. */
        Agent1 agent() throws DBusException {
            return bus.getRemoteObject(
                    Objects.requireNonNull(agentOwner, "no agent"), Objects.requireNonNull(agentPath), Agent1.class);
        }

        /** Returns what was looked for last. */
        @Nullable Map<String, Variant<?>> filter() {
            return filter;
        }

        @Override
        public void StartDiscovery() {
            cells.values().forEach(FakeCell::appear);
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
}
