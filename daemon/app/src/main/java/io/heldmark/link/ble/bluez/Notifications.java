package io.heldmark.link.ble.bluez;

import com.sun.jna.LastErrorException;
import com.sun.jna.Memory;
import io.heldmark.link.ble.GattCentral;
import io.heldmark.link.ble.GattNames;
import java.util.HashMap;
import java.util.List;
import org.bluez.GattCharacteristic1;
import org.freedesktop.dbus.connections.impl.DBusConnection;
import org.freedesktop.dbus.exceptions.DBusException;
import org.freedesktop.dbus.exceptions.DBusExecutionException;
import org.freedesktop.dbus.interfaces.Properties;
import org.freedesktop.dbus.types.Variant;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * The notified values of one characteristic: over a socket of their own (AcquireNotify), one message a value, or, where BlueZ
 * does not give one, as D-Bus signals.
 *
 * <p>The socket is the better way: values do not pass the bus, nothing is marshalled, and its end says that the connection has
 * ended.
 */
final class Notifications {
    private static final Logger LOG = LoggerFactory.getLogger(Notifications.class);
    private static final int POLL_MS = 250;
    private static final int EAGAIN = 11;
    private static final int EINTR = 4;

    private final byte characteristic;
    private final GattCentral.Listener listener;
    private final Runnable onEnd;
    private volatile boolean closed;
    private @Nullable AutoCloseable signals;

    private Notifications(byte characteristic, GattCentral.Listener listener, Runnable onEnd) {
        this.characteristic = characteristic;
        this.listener = listener;
        this.onEnd = onEnd;
    }

    /** Subscribes. */
    static Notifications begin(
            DBusConnection bus, String path, byte characteristic, GattCentral.Listener listener, Runnable onEnd)
            throws DBusException {
        Notifications made = new Notifications(characteristic, listener, onEnd);
        GattCharacteristic1 remote = bus.getRemoteObject(BluezObjects.BUS_NAME, path, GattCharacteristic1.class);
        try {
            int received = remote.AcquireNotify(new HashMap<>()).getFirstValue().getIntFileDescriptor();
            made.readFrom(Posix.takeOver(received), path);
        } catch (DBusException | DBusExecutionException e) {
            LOG.info("{}: no socket for notifications ({}), taking signals", path, e.getMessage());
            made.listenTo(bus, remote, path);
        }
        return made;
    }

    private void readFrom(int descriptor, String path) {
        Thread thread = new Thread(() -> pump(descriptor), "ble-read " + path);
        thread.setDaemon(true);
        thread.start();
    }

    private void pump(int descriptor) {
        Memory pollFd = new Memory(8);
        Memory buffer = new Memory(GattNames.LONGEST_VALUE_BYTES + 16L);
        byte[] value = new byte[GattNames.LONGEST_VALUE_BYTES + 16];
        try {
            while (!closed) {
                Posix.Readiness readiness = Posix.await(descriptor, pollFd, POLL_MS);
                if (readiness == Posix.Readiness.ENDED) {
                    break;
                }
                int length = readiness == Posix.Readiness.READABLE ? readMessage(descriptor, buffer) : -1;
                if (length == 0) {
                    break; // Values have at least one byte: this is the end.
                }
                if (length > 0) {
                    buffer.read(0, value, 0, length);
                    listener.onValue(characteristic, value, length);
                }
            }
        } catch (LastErrorException e) {
            LOG.info("reading notifications ended: {}", e.getMessage());
        } finally {
            Posix.closeDescriptor(descriptor);
            if (!closed) {
                onEnd.run();
            }
        }
    }

    private static int readMessage(int descriptor, Memory buffer) {
        try {
            return Posix.readMessage(descriptor, buffer);
        } catch (LastErrorException e) {
            if (e.getErrorCode() == EAGAIN || e.getErrorCode() == EINTR) {
                return -1;
            }
            throw e;
        }
    }

    private void listenTo(DBusConnection bus, GattCharacteristic1 remote, String path) throws DBusException {
        signals = bus.addSigHandler(Properties.PropertiesChanged.class, remote, signal -> {
            Variant<?> value = signal.getPropertiesChanged().get("Value");
            if (value != null && signal.getPath().equals(path) && !closed) {
                byte[] bytes = bytesOf(value.getValue());
                listener.onValue(characteristic, bytes, bytes.length);
            }
        });
        remote.StartNotify();
    }

    /** Returns the bytes of a value, which comes as an array or as a list. */
    static byte[] bytesOf(Object value) {
        if (value instanceof byte[] bytes) {
            return bytes;
        }
        List<?> list = (List<?>) value;
        byte[] bytes = new byte[list.size()];
        for (int i = 0; i < bytes.length; i++) {
            bytes[i] = ((Number) list.get(i)).byteValue();
        }
        return bytes;
    }

    /** Ends the subscription; the connection's end tells the cell. */
    void close() {
        closed = true;
        AutoCloseable handler = signals;
        if (handler != null) {
            try {
                handler.close();
            } catch (Exception e) {
                LOG.debug("signal handler: {}", e.getMessage());
            }
        }
    }
}
