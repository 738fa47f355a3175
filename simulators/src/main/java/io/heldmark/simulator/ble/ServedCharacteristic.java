package io.heldmark.simulator.ble;

import java.io.IOException;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.bluez.GattCharacteristic1;
import org.bluez.datatypes.TwoTuple;
import org.freedesktop.dbus.FileDescriptor;
import org.freedesktop.dbus.connections.impl.DBusConnection;
import org.freedesktop.dbus.exceptions.DBusException;
import org.freedesktop.dbus.exceptions.DBusExecutionException;
import org.freedesktop.dbus.interfaces.Properties;
import org.freedesktop.dbus.types.UInt16;
import org.freedesktop.dbus.types.Variant;
import org.jspecify.annotations.Nullable;

/**
 * A characteristic that BlueZ offers for us.
 *
 * <p><b>Notifications</b> go over a socket where BlueZ asks for one (it does where the property {@code NotifyAcquired} is
 * there): it tells when nobody takes what is sent, and when the subscription ends, which a signal does not. Else they are
 * signals. <b>Writes</b> come as calls, one after the other: with a socket, commands written before BlueZ holds it can
 * overtake one another.
 *
 * <p><b>Threading.</b> BlueZ calls on the thread of the bus, the cell tells on its own.
 */
final class ServedCharacteristic extends ServedObject implements GattCharacteristic1 {
    private static final String INTERFACE = "org.bluez.GattCharacteristic1";
    private static final int UNKNOWN_MTU = 517;

    private final @Nullable DBusConnection bus;
    private final ServedTree.Owner owner;
    private @Nullable Value value;
    private boolean takesCommands;
    private @Nullable NotifySocket socket;
    private boolean signalling;

    /** A value that can be read. */
    interface Value {
        /** Returns it as it is now. */
        byte[] now();
    }

    /** Makes one that nothing can be done with yet; {@code bus} is only needed for notifications. */
    ServedCharacteristic(
            @Nullable DBusConnection bus, String path, ServedObject service, String uuid, ServedTree.Owner owner) {
        super(path, INTERFACE);
        this.bus = bus;
        this.owner = owner;
        put("UUID", uuid);
        put("Service", service.dbusPath());
    }

    /** Lets it be read. */
    ServedCharacteristic read(Value readable) {
        value = readable;
        put("Flags", new String[] {"read"});
        return this;
    }

    /** Lets it be subscribed to. */
    ServedCharacteristic notified() {
        put("Flags", new String[] {"notify"});
        put("NotifyAcquired", false);
        return this;
    }

    /** Lets it be written. */
    ServedCharacteristic written() {
        takesCommands = true;
        put("Flags", new String[] {"write", "write-without-response"});
        return this;
    }

    /** Returns whether somebody has subscribed. */
    synchronized boolean isSubscribed() {
        return signalling || socket != null;
    }

    /**
     * Notifies a value; never waits.
     *
     * @return whether it went on its way.
     */
    boolean tell(byte[] told) {
        NotifySocket open;
        synchronized (this) {
            open = socket;
            if (open == null) {
                return signalling && signal(told);
            }
        }
        NotifySocket.Sent sent = open.send(told);
        if (sent == NotifySocket.Sent.NOBODY_THERE) {
            end();
        }
        return sent == NotifySocket.Sent.ON_ITS_WAY;
    }

    private boolean signal(byte[] told) {
        try {
            Objects.requireNonNull(bus)
                    .sendMessage(new Properties.PropertiesChanged(
                            getObjectPath(), INTERFACE, Map.of("Value", new Variant<>(told, "ay")), List.of()));
            return true;
        } catch (DBusException | DBusExecutionException e) {
            return false; // The bus is gone; whoever watches over it ends the subscription.
        }
    }

    /** Ends the subscription where the other side has. */
    void look() {
        NotifySocket open;
        synchronized (this) {
            open = socket;
        }
        if (open != null && open.isEnded()) {
            end();
        }
    }

    /** Ends the subscription, if there is one. */
    void end() {
        synchronized (this) {
            if (!isSubscribed()) {
                return;
            }
            replaceSocket(null);
            signalling = false;
        }
        owner.onEnd(this);
    }

    private void replaceSocket(@Nullable NotifySocket by) {
        if (socket != null) {
            socket.close();
        }
        socket = by;
    }

    @Override
    public byte[] ReadValue(Map<String, Variant<?>> options) {
        owner.onCall(options);
        if (value == null) {
            throw new DBusExecutionException("Read not permitted");
        }
        byte[] now = value.now();
        int offset = number(options, "offset", 0);
        if (offset > now.length) {
            throw new DBusExecutionException("Invalid offset");
        }
        return Arrays.copyOfRange(now, offset, now.length);
    }

    @Override
    public void WriteValue(byte[] written, Map<String, Variant<?>> options) {
        owner.onCall(options);
        if (!takesCommands) {
            throw new DBusExecutionException("Write not permitted");
        }
        owner.onCommand(written);
    }

    @Override
    public TwoTuple<FileDescriptor, UInt16> AcquireNotify(Map<String, Variant<?>> options) {
        owner.onCall(options);
        try {
            NotifySocket made = new NotifySocket();
            synchronized (this) {
                replaceSocket(made);
                signalling = false;
            }
            return new TwoTuple<>(new FileDescriptor(made.given()), new UInt16(number(options, "mtu", UNKNOWN_MTU)));
        } catch (IOException e) {
            throw new DBusExecutionException(String.valueOf(e.getMessage()));
        }
    }

    @Override
    public TwoTuple<FileDescriptor, UInt16> AcquireWrite(Map<String, Variant<?>> options) {
        throw new DBusExecutionException("Operation is not supported");
    }

    @Override
    public synchronized void StartNotify() {
        signalling = true;
    }

    @Override
    public void StopNotify() {
        end();
    }

    @Override
    public void Confirm() {
        // Of indications, which are not used.
    }

    /** Returns a number among the options of a call. */
    static int number(Map<String, Variant<?>> options, String key, int otherwise) {
        Variant<?> variant = options.get(key);
        return variant != null && variant.getValue() instanceof Number number ? number.intValue() : otherwise;
    }
}
