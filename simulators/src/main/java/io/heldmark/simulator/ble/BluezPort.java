package io.heldmark.simulator.ble;

import io.heldmark.simulator.scenario.CellSpec;
import io.heldmark.simulator.sender.PortException;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.ScheduledFuture;
import java.util.concurrent.TimeUnit;
import org.bluez.Device1;
import org.freedesktop.dbus.DBusPath;
import org.freedesktop.dbus.connections.impl.DBusConnection;
import org.freedesktop.dbus.connections.impl.DBusConnectionBuilder;
import org.freedesktop.dbus.exceptions.DBusException;
import org.freedesktop.dbus.exceptions.DBusExecutionException;
import org.freedesktop.dbus.interfaces.DBus;
import org.freedesktop.dbus.types.Variant;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * A cell on a Bluetooth adapter of this computer, through BlueZ: its services are registered with {@code GattManager1}, and it
 * is advertised through {@code LEAdvertisingManager1}. An adapter has one address, so it is one cell.
 *
 * <p>Where BlueZ or the adapter goes away, it is offered again once they are back. Everything that asks BlueZ for something
 * runs on one thread; telling values never waits for it.
 */
public final class BluezPort extends GattPort {
    private static final Logger LOG = LoggerFactory.getLogger(BluezPort.class);
    private static final long LOOK_MS = 250;
    private static final int NOT_AGREED = 0;
    private static final int NOTIFICATION_HEADER_BYTES = 3;

    private final DBusConnection bus;
    private final ServedTree tree;
    private final ServedAdvertisement advertisement;
    private final String wanted;
    private final String address;
    private final Set<String> callers = ConcurrentHashMap.newKeySet();
    private final ScheduledExecutorService registrar;
    private final ScheduledFuture<?> looking;
    private volatile BluezAdapter adapter;
    private volatile int mtu = NOT_AGREED;
    private volatile boolean offered;
    private volatile boolean advertised;
    private volatile boolean inRange = true;
    private volatile boolean closed;
    private String complaint = "";

    /**
     * Offers a cell and advertises it.
     *
     * @param busAddress address of the bus; empty for the system bus.
     * @param adapterName for example {@code hci1}; empty for the first adapter.
     * @param cell what the cell is.
     * @throws PortException if that does not work, with what to do.
     */
    public BluezPort(String busAddress, String adapterName, CellSpec cell) {
        super(cell);
        wanted = adapterName;
        bus = open(busAddress);
        tree = new ServedTree(bus, cell, new ShownCell(cell, this::describe, this::batteryPercent), new Owner());
        advertisement = new ServedAdvertisement(cell.name(), this::takeRelease);
        registrar = Executors.newSingleThreadScheduledExecutor(task -> {
            Thread thread = new Thread(task, "ble-register-" + cell.name());
            thread.setDaemon(true);
            return thread;
        });
        try {
            tree.export(bus);
            bus.exportObject(advertisement);
            adapter = BluezAdapter.find(bus, wanted);
            address = adapter.address();
            appear();
            bus.addSigHandler(DBus.NameOwnerChanged.class, this::takeOwner);
        } catch (DBusException e) {
            shut();
            throw BluezRefusal.of("the cell cannot be put on the bus", e);
        } catch (PortException e) {
            shut();
            throw e;
        }
        looking = registrar.scheduleWithFixedDelay(this::look, LOOK_MS, LOOK_MS, TimeUnit.MILLISECONDS);
    }

    /** One call after the other, or commands could overtake one another. */
    private static DBusConnection open(String busAddress) {
        try {
            DBusConnectionBuilder builder = busAddress.isEmpty()
                    ? DBusConnectionBuilder.forSystemBus()
                    : DBusConnectionBuilder.forAddress(busAddress);
            return builder.withShared(false)
                    .receivingThreadConfig()
                    .withMethodCallThreadCount(1)
                    .connectionConfig()
                    .build();
        } catch (DBusException | RuntimeException e) {
            throw new PortException(
                    "the system bus (D-Bus) cannot be reached: is dbus running? (" + e.getMessage() + ")");
        }
    }

    private void appear() {
        if (!offered) {
            adapter.offer(tree);
            offered = true;
        }
        if (!advertised) {
            adapter.advertise(advertisement);
            advertised = true;
        }
    }

    /** Sees subscriptions that ended in silence, and brings the cell back after BlueZ or the adapter was away. */
    private void look() {
        tree.stream().look();
        tree.reply().look();
        if (!inRange || closed || (offered && advertised)) {
            return;
        }
        try {
            adapter = BluezAdapter.find(bus, wanted);
            appear();
            LOG.info("{} is offered again", address());
            complaint = "";
        } catch (PortException e) {
            complain(String.valueOf(e.getMessage()));
        } catch (DBusExecutionException e) {
            complain("the bus is gone");
        }
    }

    private void complain(String reason) {
        if (!reason.equals(complaint)) {
            LOG.warn("{} cannot be reached by stations: {}; trying again", address(), reason);
        }
        complaint = reason;
    }

    /** BlueZ drops an advertisement when the adapter goes, and the services with it. */
    private void takeRelease() {
        advertised = false;
        offered = false;
        forget();
    }

    private void takeOwner(DBus.NameOwnerChanged change) {
        if (change.name.equals(BluezAdapter.BLUEZ)) {
            takeRelease();
        }
    }

    private void forget() {
        callers.clear();
        mtu = NOT_AGREED;
        tree.stream().end();
        tree.reply().end();
    }

    /** Hears what BlueZ hands over from whoever is connected. */
    private final class Owner implements ServedTree.Owner {
        @Override
        public void onCommand(byte[] value) {
            takeCommand(value);
        }

        @Override
        public void onCall(Map<String, Variant<?>> options) {
            Variant<?> device = options.get("device");
            if (device != null && device.getValue() instanceof DBusPath path) {
                callers.add(path.getPath());
            }
            mtu = ServedCharacteristic.number(options, "mtu", mtu);
        }

        @Override
        public void onEnd(ServedCharacteristic characteristic) {
            if (characteristic.equals(tree.stream())) {
                takeEnd();
            }
        }
    }

    @Override
    boolean tell(byte characteristic, byte[] value) {
        if (mtu != NOT_AGREED && value.length > mtu - NOTIFICATION_HEADER_BYTES) {
            return false;
        }
        return (characteristic == GattNames.STREAM_BYTE ? tree.stream() : tree.reply()).tell(value);
    }

    @Override
    public boolean hasReader() {
        return tree.stream().isSubscribed();
    }

    @Override
    public String address() {
        return "ble:" + address;
    }

    @Override
    public void takeDown() {
        inRange = false;
        registrar.execute(this::vanish);
    }

    private void vanish() {
        if (advertised) {
            adapter.silence(advertisement);
            advertised = false;
        }
        for (String caller : callers) {
            try {
                bus.getRemoteObject(BluezAdapter.BLUEZ, caller, Device1.class).Disconnect();
            } catch (DBusException | DBusExecutionException e) {
                LOG.debug("{} has left already: {}", caller, e.getMessage());
            }
        }
        forget();
    }

    /** The thread that looks after the registration advertises again. */
    @Override
    public void bringUp() {
        inRange = true;
    }

    @Override
    public void close() {
        if (closed) {
            return;
        }
        closed = true;
        looking.cancel(false);
        registrar.execute(() -> {
            vanish();
            if (offered) {
                adapter.withdraw(tree);
                offered = false;
            }
        });
        shut();
    }

    private void shut() {
        registrar.shutdown();
        try {
            if (!registrar.awaitTermination(5, TimeUnit.SECONDS)) {
                LOG.warn("BlueZ does not answer; it forgets the cell when this program ends");
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
        bus.disconnect();
    }
}
