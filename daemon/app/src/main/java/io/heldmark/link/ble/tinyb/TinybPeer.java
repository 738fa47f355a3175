package io.heldmark.link.ble.tinyb;

import io.heldmark.link.ble.CellInRange;
import io.heldmark.link.ble.GattCentral;
import io.heldmark.link.ble.GattNames;
import io.heldmark.link.ble.GattPeer;
import io.heldmark.link.stream.UnavailableException;
import io.heldmark.link.stream.UnavailableException.Kind;
import java.io.IOException;
import java.time.Duration;
import java.util.concurrent.atomic.AtomicBoolean;
import tinyb.BluetoothDevice;
import tinyb.BluetoothException;
import tinyb.BluetoothGattCharacteristic;
import tinyb.BluetoothGattService;

/** A cell connected through TinyB. */
final class TinybPeer implements GattPeer {
    private static final Duration FIND = Duration.ofSeconds(10);
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
        BluetoothGattService service = device.find(GattNames.SERVICE, FIND);
        if (service == null) {
            throw new UnavailableException(Kind.REFUSED, "this device is no Gaugeline cell: it lacks the service");
        }
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

    private static BluetoothGattCharacteristic characteristic(BluetoothGattService service, String uuid)
            throws UnavailableException {
        BluetoothGattCharacteristic found = service.find(uuid, FIND);
        if (found == null) {
            throw new UnavailableException(
                    Kind.REFUSED, "this device is no Gaugeline cell: it lacks the characteristic " + uuid);
        }
        return found;
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
