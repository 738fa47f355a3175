package io.heldmark.link.ble.bluez;

import io.heldmark.link.ble.CellInRange;
import io.heldmark.link.ble.GattCentral;
import io.heldmark.link.ble.GattNames;
import io.heldmark.link.ble.GattPeer;
import io.heldmark.link.stream.UnavailableException;
import io.heldmark.link.stream.UnavailableException.Kind;
import java.io.IOException;
import java.util.HashMap;
import java.util.Map;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.AtomicReference;
import org.bluez.Device1;
import org.bluez.GattCharacteristic1;
import org.bluez.exceptions.BluezNotConnectedException;
import org.freedesktop.dbus.connections.impl.DBusConnection;
import org.freedesktop.dbus.exceptions.DBusException;
import org.freedesktop.dbus.exceptions.DBusExecutionException;
import org.freedesktop.dbus.interfaces.Properties;
import org.freedesktop.dbus.types.Variant;
import org.jspecify.annotations.Nullable;

/** A cell connected through BlueZ. */
final class BluezPeer implements GattPeer {
    private static final long RESOLVE_MS = 15_000;
    private static final long POLL_MS = 25;
    private static final long WATCH_MS = 500;

    private final DBusConnection bus;
    private final String device;
    private final GattCentral.Listener listener;
    private final AtomicBoolean ended = new AtomicBoolean();
    private final GattCharacteristic1 describe;
    private final GattCharacteristic1 command;
    private final Notifications reply;
    private final Notifications stream;
    private final int mtu;
    private final int rssiDbm;
    private final AtomicReference<byte @Nullable []> firstDescribe = new AtomicReference<>();

    /** Pairs with the cell that is being connected. */
    interface Pairing {
        /** Pairs; throws with what to do where it does not work. */
        void pair() throws UnavailableException;
    }

    private BluezPeer(DBusConnection bus, String device, BluezObjects objects, GattCentral.Listener listener)
            throws DBusException, UnavailableException {
        this.bus = bus;
        this.device = device;
        this.listener = listener;
        describe = characteristic(objects, GattNames.DESCRIBE);
        command = characteristic(objects, GattNames.COMMAND);
        firstDescribe.set(describe.ReadValue(new HashMap<>())); // Fails here where the cell wants to be paired.
        String streamPath = path(objects, GattNames.STREAM);
        rssiDbm = objects.number(device, BluezObjects.DEVICE, "RSSI", CellInRange.RSSI_UNKNOWN);
        mtu = objects.number(streamPath, BluezObjects.CHARACTERISTIC, "MTU", 0);
        reply = Notifications.begin(
                bus, path(objects, GattNames.REPLY), GattNames.REPLY_BYTE, listener, this::onStreamEnd);
        stream = Notifications.begin(bus, streamPath, GattNames.STREAM_BYTE, listener, this::onStreamEnd);
        Thread watch = new Thread(this::watch, "ble-watch " + device);
        watch.setDaemon(true);
        watch.start();
    }

    /**
     * Connects, waits until the services are known, and subscribes; pairs first where the cell demands it.
     *
     * @param bus connection for this cell alone: sockets received over it end with it. Disconnected with the cell.
     * @param device path of the cell.
     * @param pairing pairs with it.
     * @param listener takes values and the end.
     */
    static BluezPeer connect(DBusConnection bus, String device, Pairing pairing, GattCentral.Listener listener)
            throws DBusException, UnavailableException, InterruptedException {
        Device1 remote = bus.getRemoteObject(BluezObjects.BUS_NAME, device, Device1.class);
        try {
            remote.Connect();
        } catch (DBusException | DBusExecutionException e) {
            if (!BluezReasons.isConnected(e)) {
                throw e;
            }
        }
        try {
            awaitServices(bus, device);
            return subscribe(bus, device, pairing, listener);
        } catch (DBusException | DBusExecutionException | UnavailableException e) {
            disconnect(remote);
            throw e;
        }
    }

    private static BluezPeer subscribe(
            DBusConnection bus, String device, Pairing pairing, GattCentral.Listener listener)
            throws DBusException, UnavailableException {
        try {
            return new BluezPeer(bus, device, BluezObjects.read(bus), listener);
        } catch (DBusException | DBusExecutionException e) {
            if (!BluezReasons.asksForPairing(e)) {
                throw e;
            }
            pairing.pair();
            return new BluezPeer(bus, device, BluezObjects.read(bus), listener);
        }
    }

    private static void awaitServices(DBusConnection bus, String device)
            throws DBusException, UnavailableException, InterruptedException {
        for (long waitedMs = 0; waitedMs < RESOLVE_MS; waitedMs += POLL_MS) {
            if (isTrue(bus, device, "ServicesResolved")) {
                return;
            }
            Thread.sleep(POLL_MS);
        }
        throw new UnavailableException(Kind.UNREACHABLE, "the cell's services were not found in time; trying again");
    }

    private static boolean isTrue(DBusConnection bus, String device, String property) throws DBusException {
        Object value = bus.getRemoteObject(BluezObjects.BUS_NAME, device, Properties.class)
                .Get(BluezObjects.DEVICE, property);
        return Boolean.TRUE.equals(value instanceof Variant<?> variant ? variant.getValue() : value);
    }

    private String path(BluezObjects objects, String uuid) throws UnavailableException {
        String found = objects.characteristic(device, uuid);
        if (found == null) {
            throw new UnavailableException(
                    Kind.REFUSED, "this device is no Gaugeline cell: it lacks the characteristic " + uuid);
        }
        return found;
    }

    private GattCharacteristic1 characteristic(BluezObjects objects, String uuid)
            throws DBusException, UnavailableException {
        return bus.getRemoteObject(BluezObjects.BUS_NAME, path(objects, uuid), GattCharacteristic1.class);
    }

    /** BlueZ ends its sockets when the connection ends, but says nothing where notifications come as signals. */
    private void watch() {
        while (!ended.get()) {
            try {
                Thread.sleep(WATCH_MS);
                if (!isTrue(bus, device, "Connected")) {
                    end("the connection to the cell was lost");
                }
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
                return;
            } catch (DBusException | DBusExecutionException e) {
                end("Bluetooth went away: " + BluezReasons.of(e).reason());
            }
        }
    }

    private void onStreamEnd() {
        end("the connection to the cell was lost");
    }

    private void end(String reason) {
        if (ended.compareAndSet(false, true)) {
            listener.onGone(reason);
        }
    }

    @Override
    public byte[] readDescribe() throws IOException {
        byte[] known = firstDescribe.getAndSet(null);
        if (known != null) {
            return known;
        }
        try {
            return describe.ReadValue(new HashMap<>());
        } catch (DBusException | DBusExecutionException e) {
            throw new IOException(
                    "describe could not be read: " + BluezReasons.of(e).reason(), e);
        }
    }

    @Override
    public void writeCommand(byte[] value) throws IOException {
        Map<String, Variant<?>> options = new HashMap<>();
        options.put("type", new Variant<>("command"));
        try {
            command.WriteValue(value, options);
        } catch (DBusException | DBusExecutionException e) {
            throw new IOException(
                    "a command could not be sent: " + BluezReasons.of(e).reason(), e);
        }
    }

    @Override
    public int mtu() {
        return mtu;
    }

    @Override
    public int rssiDbm() {
        return rssiDbm;
    }

    @Override
    public void close() {
        ended.set(true);
        stream.close();
        reply.close();
        try {
            disconnect(bus.getRemoteObject(BluezObjects.BUS_NAME, device, Device1.class));
        } catch (DBusException e) {
            // The bus is gone, and the connection with it.
        }
        bus.disconnect();
    }

    private static void disconnect(Device1 remote) {
        try {
            remote.Disconnect();
        } catch (BluezNotConnectedException | DBusExecutionException e) {
            // Just what was wanted.
        }
    }
}
