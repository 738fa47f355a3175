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
import org.bluez.Agent1;
import org.bluez.AgentManager1;
import org.bluez.GattCharacteristic1;
import org.freedesktop.dbus.DBusPath;
import org.freedesktop.dbus.connections.impl.DBusConnection;
import org.freedesktop.dbus.connections.impl.DBusConnectionBuilder;
import org.freedesktop.dbus.exceptions.DBusException;
import org.freedesktop.dbus.interfaces.DBus;
import org.freedesktop.dbus.interfaces.DBusInterface;
import org.freedesktop.dbus.interfaces.DBusSigHandler;
import org.freedesktop.dbus.interfaces.ObjectManager;
import org.freedesktop.dbus.interfaces.Properties;
import org.freedesktop.dbus.types.Variant;
import org.jspecify.annotations.Nullable;

/**
 * A stand-in for BlueZ on a bus of its own: adapters, and virtual cells that speak the GATT binding in real time. Cells are
 * seen through the first adapter; programs can offer cells of their own on any. No Bluetooth hardware, no kernel support, no root.
 */
final class FakeBluez implements AutoCloseable {
    static final String ADAPTER = "/org/bluez/hci0";

    private final Process daemon;
    private final String address;
    private final DBusConnection bus;
    private final Map<String, FakeObject> visible = new ConcurrentSkipListMap<>();
    private final Map<String, FakeCell> cells = new LinkedHashMap<>();
    private final Map<String, FakeAdapter> adapters = new ConcurrentSkipListMap<>();
    private volatile @Nullable String agentOwner;
    private volatile @Nullable String agentPath;

    /** Returns whether the machine has a bus to run this on. */
    static boolean isPossible() {
        return Stream.of(System.getenv("PATH").split(File.pathSeparator))
                .anyMatch(p -> Files.isExecutable(Path.of(p, "dbus-daemon")));
    }

    FakeBluez(Path folder) throws Exception {
        this(folder, "");
    }

    /** Makes one on a bus with rules of its own, which come last and so win. */
    FakeBluez(Path folder, String rules) throws Exception {
        Path socket = folder.resolve("bus");
        address = "unix:path=" + socket;
        Path config = folder.resolve("bus.conf");
        Files.writeString(config, """
                <!DOCTYPE busconfig PUBLIC "-//freedesktop//DTD D-Bus Bus Configuration 1.0//EN"
                 "http://www.freedesktop.org/standards/dbus/1.0/busconfig.dtd">
                <busconfig><type>custom</type><listen>%s</listen><auth>EXTERNAL</auth>
                <policy context="default"><allow send_destination="*" eavesdrop="true"/><allow eavesdrop="true"/>
                <allow own="*"/>%s</policy></busconfig>
                """.formatted(address, rules));
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
        bus.addSigHandler(DBus.NameOwnerChanged.class, change -> {
            if (change.newOwner.isEmpty()) {
                adapters.values().forEach(adapter -> adapter.forget(change.name));
            }
        });
    }

    String busAddress() {
        return address;
    }

    /** Takes BlueZ's name, with an adapter. */
    FakeAdapter start(boolean powered) throws DBusException {
        FakeAdapter adapter = plugIn(ADAPTER, "00:AA:01:00:00:00", powered);
        bus.requestBusName(BluezObjects.BUS_NAME);
        return adapter;
    }

    /** Takes BlueZ's name, without an adapter. */
    void startWithoutAdapter() throws DBusException {
        bus.requestBusName(BluezObjects.BUS_NAME);
    }

    /** Adds an adapter. */
    FakeAdapter plugIn(String path, String adapterAddress, boolean powered) throws DBusException {
        FakeAdapter adapter = new FakeAdapter(this, path, adapterAddress, powered);
        adapters.put(path, adapter);
        show(adapter);
        return adapter;
    }

    /** Takes an adapter away, with all that was seen and connected through it. */
    void unplug(FakeAdapter adapter) {
        cells.values().forEach(FakeCell::lose);
        adapters.remove(adapter.getObjectPath());
        adapter.release();
        hide(adapter);
    }

    /** BlueZ ends: connections break, its objects and its name go. */
    void crash() throws DBusException {
        List.copyOf(adapters.values()).forEach(this::unplug);
        agentOwner = null;
        bus.releaseBusName(BluezObjects.BUS_NAME);
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
            bus.sendMessage(
                    new ObjectManager.InterfacesAdded("/", new DBusPath(object.getObjectPath()), object.interfaces()));
        }
    }

    void hide(FakeObject object) {
        if (visible.remove(object.getObjectPath()) != null) {
            try {
                bus.sendMessage(new ObjectManager.InterfacesRemoved(
                        "/",
                        new DBusPath(object.getObjectPath()),
                        List.copyOf(object.interfaces().keySet())));
            } catch (DBusException e) {
                throw new IllegalStateException(e);
            }
            bus.unExportObject(object.getObjectPath());
        }
    }

    void changed(FakeObject object, String property, Variant<?> value) {
        object.properties.put(property, value);
        try {
            bus.sendMessage(new Properties.PropertiesChanged(
                    object.getObjectPath(), object.iface, Map.of(property, value), List.of()));
        } catch (DBusException e) {
            throw new IllegalStateException(e);
        }
    }

    /** Returns an object of a program that called, or of the stand-in itself. */
    <T extends DBusInterface> T remote(String owner, String path, Class<T> type) throws DBusException {
        return bus.getRemoteObject(owner, path, type);
    }

    /** Returns the agent that the station registered. */
    Agent1 agent() throws DBusException {
        return remote(Objects.requireNonNull(agentOwner, "no agent"), Objects.requireNonNull(agentPath), Agent1.class);
    }

    /** Somebody looks for cells: those in range are seen through the first adapter. */
    void look() {
        cells.values().forEach(FakeCell::appear);
        adapters.values().forEach(FakeAdapter::appear);
    }

    /** Listens for what a program says of one of its objects. */
    AutoCloseable listen(String owner, GattCharacteristic1 object, DBusSigHandler<Properties.PropertiesChanged> handler)
            throws DBusException {
        return bus.addSigHandler(Properties.PropertiesChanged.class, owner, object, handler);
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
        public void RegisterAgent(DBusPath agent, String capability) {
            if (agentOwner != null) {
                throw FakeObject.said("Already Exists");
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
            visible.forEach((path, o) -> all.put(new DBusPath(path), o.interfaces()));
            return all;
        }
    }
}
