package io.heldmark.link.ble.bluez;

import com.sun.jna.Native;
import io.heldmark.link.ble.GattNames;
import io.heldmark.simulator.link.GattValues;
import io.heldmark.simulator.sender.Endpoint;
import io.heldmark.simulator.sender.Port;
import java.util.Arrays;
import java.util.Map;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.TimeUnit;
import org.bluez.Agent1;
import org.bluez.Device1;
import org.bluez.GattCharacteristic1;
import org.bluez.GattService1;
import org.bluez.datatypes.TwoTuple;
import org.freedesktop.dbus.DBusPath;
import org.freedesktop.dbus.FileDescriptor;
import org.freedesktop.dbus.exceptions.DBusException;
import org.freedesktop.dbus.exceptions.DBusExecutionException;
import org.freedesktop.dbus.types.UInt16;
import org.freedesktop.dbus.types.Variant;
import org.jspecify.annotations.Nullable;

/** A cell of the stand-in: its device object, its characteristics, and the port through which a virtual cell speaks. */
final class FakeCell extends FakeObject implements Device1, Port {
    /** What a cell is like. */
    enum Kind {
        /** Gives a socket for notifications. */
        SOCKETS,
        /** Old: notifications are signals. */
        SIGNALS,
        /** No Gaugeline cell at all. */
        FOREIGN
    }

    /** The calls of the C library that make a socket as BlueZ does: each message is one value. */
    static final class C {
        static {
            Native.register(C.class, "c");
        }

        static final int AF_UNIX = 1;
        static final int SOCK_SEQPACKET = 5;
        static final int MSG_DONTWAIT_NOSIGNAL = 0x40 | 0x4000;

        private C() {}

        static native int socketpair(int domain, int type, int protocol, int[] pair);

        static native long send(int descriptor, byte[] bytes, long count, int flags);

        static native int close(int descriptor);
    }

    private final FakeBluez bluez;
    private final Kind kind;
    private final BlockingQueue<byte[]> written = new ArrayBlockingQueue<>(256);
    private final Service serviceObject;
    private final Characteristic describe;
    private final Characteristic stream;
    private final Characteristic reply;
    private final Characteristic command;
    private volatile byte[] describeValue = new byte[0];
    private volatile boolean inRange = true;
    private volatile boolean locked;
    private volatile String passkey = "";
    private @Nullable Endpoint endpoint;

    FakeCell(FakeBluez bluez, String address, Kind kind) {
        super(FakeBluez.ADAPTER + "/dev_" + address.replace(':', '_'), BluezObjects.DEVICE);
        this.bluez = bluez;
        this.kind = kind;
        properties.put("Address", new Variant<>(address));
        properties.put("Name", new Variant<>("invented cell"));
        properties.put("Alias", new Variant<>("invented cell"));
        properties.put("AddressType", new Variant<>("public"));
        properties.put("Adapter", new Variant<>(new DBusPath(FakeBluez.ADAPTER)));
        properties.put("Trusted", new Variant<>(false));
        properties.put("Blocked", new Variant<>(false));
        properties.put("LegacyPairing", new Variant<>(false));
        properties.put("Paired", new Variant<>(false));
        properties.put("Connected", new Variant<>(false));
        properties.put("ServicesResolved", new Variant<>(false));
        properties.put("RSSI", new Variant<>((short) -57));
        String service = kind == Kind.FOREIGN ? "0000180d-0000-1000-8000-00805f9b34fb" : GattNames.SERVICE;
        properties.put("UUIDs", new Variant<>(new String[] {service}));
        serviceObject = new Service(service);
        describe = new Characteristic("char0011", GattNames.DESCRIBE);
        stream = new Characteristic("char0013", GattNames.STREAM);
        reply = new Characteristic("char0016", GattNames.REPLY);
        command = new Characteristic("char0019", GattNames.COMMAND);
    }

    String path() {
        return getObjectPath();
    }

    void run(Endpoint running) {
        endpoint = running;
        running.start();
    }

    void stop() {
        Endpoint running = endpoint;
        if (running != null) {
            running.close();
        }
    }

    void appear() {
        if (inRange) {
            try {
                bluez.show(this);
            } catch (DBusException e) {
                throw new IllegalStateException(e);
            }
        }
    }

    /** Loses the connection as a radio does, and vanishes. */
    void walkAway() {
        inRange = false;
        dropConnection();
        bluez.hide(this);
    }

    /** Loses the connection because the adapter went. */
    void lose() {
        dropConnection();
        bluez.hide(this);
    }

    void comeBack() {
        inRange = true;
    }

    private void dropConnection() {
        stream.end();
        reply.end();
        if (kind != Kind.FOREIGN) {
            for (FakeObject o : new FakeObject[] {describe, stream, reply, command, serviceObject}) {
                bluez.hide(o);
            }
        }
        bluez.changed(this, "ServicesResolved", new Variant<>(false));
        bluez.changed(this, "Connected", new Variant<>(false));
    }

    // ---- what the station calls ----

    @Override
    public void Connect() {
        bluez.changed(this, "Connected", new Variant<>(true));
        try {
            if (kind != Kind.FOREIGN) {
                for (FakeObject o : new FakeObject[] {serviceObject, describe, stream, reply, command}) {
                    bluez.show(o);
                }
            }
        } catch (DBusException e) {
            throw new IllegalStateException(e);
        }
        bluez.changed(this, "ServicesResolved", new Variant<>(true));
    }

    @Override
    public void Disconnect() {
        dropConnection();
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
        if (!locked) {
            return;
        }
        try {
            Agent1 agent = bluez.agent();
            DBusPath me = new DBusPath(path());
            if (passkey.isEmpty()) {
                agent.RequestAuthorization(me);
            } else if (agent.RequestPasskey(me).longValue() != Long.parseLong(passkey)) {
                throw said("Authentication Failed");
            }
        } catch (DBusException | DBusExecutionException e) {
            throw said("Authentication Failed");
        }
        bluez.changed(this, "Paired", new Variant<>(true));
    }

    /** Lets nothing be read before it is paired. */
    void demandPairing(String demandedPasskey) {
        locked = true;
        passkey = demandedPasskey;
    }

    @Override
    public void CancelPairing() {
        // Needs no pairing.
    }

    // ---- what the virtual cell calls ----

    @Override
    public String address() {
        return "ble:" + properties.get("Address").getValue();
    }

    @Override
    public int write(byte[] bytes, int offset, int length) {
        GattValues.each(bytes, length, (b, at, n) -> {
            byte[] value = Arrays.copyOfRange(b, at + 1, at + n);
            switch (b[at]) {
                case GattNames.DESCRIBE_BYTE -> describeValue = value;
                case GattNames.STREAM_BYTE -> stream.tell(value);
                default -> reply.tell(value);
            }
        });
        return length;
    }

    @Override
    public int read(byte[] into) {
        try {
            byte[] value = written.poll(20, TimeUnit.MILLISECONDS);
            if (value == null) {
                return 0;
            }
            into[0] = 0x59;
            System.arraycopy(value, 0, into, 1, value.length);
            return value.length + 1;
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            return 0;
        }
    }

    @Override
    public void takeDown() {
        walkAway();
    }

    @Override
    public void bringUp() {
        comeBack();
    }

    @Override
    public void close() {
        stream.end();
        reply.end();
    }

    /** The service. */
    final class Service extends FakeObject implements GattService1 {
        Service(String uuid) {
            super(FakeCell.this.path() + "/service0010", "org.bluez.GattService1");
            properties.put("UUID", new Variant<>(uuid));
            properties.put("Device", new Variant<>(new DBusPath(FakeCell.this.path())));
            properties.put("Primary", new Variant<>(true));
            properties.put("Includes", new Variant<>(new DBusPath[0]));
        }
    }

    /** One characteristic. */
    final class Characteristic extends FakeObject implements GattCharacteristic1 {
        private int socket = -1;
        private boolean notifying;

        Characteristic(String name, String uuid) {
            super(FakeCell.this.path() + "/service0010/" + name, BluezObjects.CHARACTERISTIC);
            properties.put("UUID", new Variant<>(uuid));
            properties.put("Service", new Variant<>(new DBusPath(serviceObject.getObjectPath())));
            properties.put("Value", new Variant<>(new byte[0]));
            properties.put("Notifying", new Variant<>(false));
            properties.put("Flags", new Variant<>(new String[] {"read", "write", "write-without-response", "notify"}));
            properties.put("MTU", new Variant<>(new UInt16(247)));
        }

        synchronized void tell(byte[] value) {
            if (socket >= 0) {
                C.send(socket, value, value.length, C.MSG_DONTWAIT_NOSIGNAL);
            } else if (notifying) {
                bluez.changed(this, "Value", new Variant<>(value, "ay"));
            }
        }

        synchronized void end() {
            if (socket >= 0) {
                C.close(socket);
            }
            socket = -1;
            notifying = false;
        }

        @Override
        public byte[] ReadValue(Map<String, Variant<?>> options) {
            if (locked
                    && !Boolean.TRUE.equals(
                            FakeCell.this.properties.get("Paired").getValue())) {
                throw said("Not paired");
            }
            return describeValue;
        }

        @Override
        public void WriteValue(byte[] value, Map<String, Variant<?>> options) {
            written.add(value);
        }

        @Override
        public TwoTuple<FileDescriptor, UInt16> AcquireWrite(Map<String, Variant<?>> options) {
            throw said("Operation is not supported");
        }

        @Override
        public synchronized TwoTuple<FileDescriptor, UInt16> AcquireNotify(Map<String, Variant<?>> options) {
            if (kind == Kind.SIGNALS) {
                throw said("Operation is not supported");
            }
            int[] pair = new int[2];
            C.socketpair(C.AF_UNIX, C.SOCK_SEQPACKET, 0, pair);
            socket = pair[0];
            return new TwoTuple<>(new FileDescriptor(pair[1]), new UInt16(247));
        }

        @Override
        public synchronized void StartNotify() {
            notifying = true;
        }

        @Override
        public synchronized void StopNotify() {
            notifying = false;
        }

        @Override
        public void Confirm() {
            // Indications are not used.
        }
    }
}
