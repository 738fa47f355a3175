package io.heldmark.link.ble.tinyb;

import io.heldmark.link.ble.CellInRange;
import io.heldmark.link.ble.GattCentral;
import io.heldmark.link.ble.GattNames;
import io.heldmark.link.ble.GattPeer;
import io.heldmark.link.stream.UnavailableException;
import io.heldmark.link.stream.UnavailableException.Kind;
import java.io.IOException;
import java.util.concurrent.atomic.AtomicBoolean;
import tinyb.BluetoothDevice;
import tinyb.BluetoothException;
import tinyb.BluetoothGattCharacteristic;
import tinyb.BluetoothGattService;

/** A cell connected through TinyB. */
final class TinybPeer implements GattPeer {
    private static final long FIND_MS = 10_000;
    private static final long LOOK_EVERY_MS = 50;
    private static final long WATCH_MS = 500;

    private final BluetoothDevice device;
    private final GattCentral.Listener listener;
    private final BluetoothGattCharacteristic describe;
    private final BluetoothGattCharacteristic command;
    private final BluetoothGattCharacteristic reply;
    private final BluetoothGattCharacteristic stream;
    private final AtomicBoolean ended = new AtomicBoolean();

    private TinybPeer(BluetoothDevice device, GattCentral.Listener listener) throws UnavailableException {
        this.device = device;
        this.listener = listener;
        BluetoothGattService service = service(device);
        describe = characteristic(service, GattNames.DESCRIBE);
        command = characteristic(service, GattNames.COMMAND);
        reply = characteristic(service, GattNames.REPLY);
        stream = characteristic(service, GattNames.STREAM);
        reply.enableValueNotifications(value -> take(GattNames.REPLY_BYTE, value));
        stream.enableValueNotifications(value -> take(GattNames.STREAM_BYTE, value));
        Thread watch = new Thread(this::watch, "ble-watch " + device.getAddress());
        watch.setDaemon(true);
        watch.start();
    }

    /** Connects and subscribes. */
    static TinybPeer connect(BluetoothDevice device, GattCentral.Listener listener) throws UnavailableException {
        if (!device.getConnected()) {
            device.connect();
        }
        try {
            return new TinybPeer(device, listener);
        } catch (UnavailableException | BluetoothException e) {
            device.disconnect();
            throw e;
        }
    }

    /**
     * Asks again and again: TinyB's own waiting for an object races with the objects that come meanwhile, and has ended the
     * whole program with it.
     */
    private static BluetoothGattService service(BluetoothDevice device) throws UnavailableException {
        for (long waitedMs = 0; waitedMs < FIND_MS; waitedMs += LOOK_EVERY_MS) {
            for (BluetoothGattService service : device.getServices()) {
                if (GattNames.SERVICE.equalsIgnoreCase(service.getUUID())) {
                    return service;
                }
            }
            pause();
        }
        throw new UnavailableException(Kind.REFUSED, "this device is no Gaugeline cell: it lacks the service");
    }

    private static BluetoothGattCharacteristic characteristic(BluetoothGattService service, String uuid)
            throws UnavailableException {
        for (long waitedMs = 0; waitedMs < FIND_MS; waitedMs += LOOK_EVERY_MS) {
            for (BluetoothGattCharacteristic characteristic : service.getCharacteristics()) {
                if (uuid.equalsIgnoreCase(characteristic.getUUID())) {
                    return characteristic;
                }
            }
            pause();
        }
        throw new UnavailableException(
                Kind.REFUSED, "this device is no Gaugeline cell: it lacks the characteristic " + uuid);
    }

    private static void pause() throws UnavailableException {
        try {
            Thread.sleep(LOOK_EVERY_MS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new UnavailableException(Kind.UNREACHABLE, "interrupted");
        }
    }

    private void take(byte characteristic, byte[] value) {
        if (!ended.get()) {
            listener.onValue(characteristic, value, value.length);
        }
    }

    /** If BlueZ dies no event comes and the device claims to be connected: asking for something then fails. */
    private void watch() {
        while (!ended.get()) {
            try {
                Thread.sleep(WATCH_MS);
                if (!device.getConnected()) {
                    end("the connection to the cell was lost");
                }
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
                return;
            } catch (RuntimeException e) {
                end("Bluetooth went away: " + e.getMessage());
            }
        }
    }

    private void end(String reason) {
        if (ended.compareAndSet(false, true)) {
            listener.onGone(reason);
        }
    }

    @Override
    public byte[] readDescribe() throws IOException {
        try {
            return describe.readValue();
        } catch (RuntimeException e) {
            throw new IOException("describe could not be read: " + e.getMessage(), e);
        }
    }

    @Override
    public void writeCommand(byte[] value) throws IOException {
        try {
            command.writeValue(value);
        } catch (RuntimeException e) {
            throw new IOException("a command could not be sent: " + e.getMessage(), e);
        }
    }

    @Override
    public int mtu() {
        return 0;
    }

    @Override
    public int rssiDbm() {
        int rssiDbm = device.getRSSI();
        return rssiDbm == 0 ? CellInRange.RSSI_UNKNOWN : rssiDbm;
    }

    @Override
    public void close() {
        ended.set(true);
        try {
            stream.disableValueNotifications();
            reply.disableValueNotifications();
            device.disconnect();
        } catch (RuntimeException e) {
            // It is gone already.
            ended.set(true);
        }
    }
}
