package io.heldmark.link.ble.bluez;

import com.sun.jna.LastErrorException;
import com.sun.jna.Memory;
import java.io.ByteArrayOutputStream;
import java.util.Collection;
import java.util.HashMap;
import java.util.Map;
import org.bluez.GattCharacteristic1;
import org.bluez.datatypes.TwoTuple;
import org.bluez.exceptions.BluezFailedException;
import org.freedesktop.dbus.DBusPath;
import org.freedesktop.dbus.FileDescriptor;
import org.freedesktop.dbus.exceptions.DBusException;
import org.freedesktop.dbus.types.UInt16;
import org.freedesktop.dbus.types.Variant;
import org.jspecify.annotations.Nullable;

/**
 * A characteristic of a {@link RelayedCell}: asks the program as BlueZ's GATT server does (reads in pieces of ATT_MTU - 1 bytes,
 * notifications over a socket where the program has {@code NotifyAcquired}), and answers the station as its GATT client does.
 */
final class RelayedCharacteristic extends FakeObject implements GattCharacteristic1 {
    private final FakeBluez bluez;
    private final String program;
    private final String ownPath;
    private final String visitor;
    private final int mtu;
    private final boolean bySocket;
    private int toStation = -1;
    private @Nullable Thread pump;
    private volatile boolean ended = true;
    private @Nullable AutoCloseable signals;

    RelayedCharacteristic(
            FakeBluez bluez,
            String program,
            String ownPath,
            Map<String, Variant<?>> offered,
            String shownAt,
            String visitor,
            int mtu) {
        super(shownAt, BluezObjects.CHARACTERISTIC);
        this.bluez = bluez;
        this.program = program;
        this.ownPath = ownPath;
        this.visitor = visitor;
        this.mtu = mtu;
        bySocket = offered.containsKey("NotifyAcquired");
        properties.put("UUID", offered.get("UUID"));
        properties.put("Flags", new Variant<>(flags(offered)));
        properties.put("Service", new Variant<>(new DBusPath(shownAt.substring(0, shownAt.lastIndexOf('/')))));
        properties.put("MTU", new Variant<>(new UInt16(mtu)));
    }

    private static String[] flags(Map<String, Variant<?>> offered) {
        Object flags = offered.get("Flags").getValue();
        return flags instanceof String[] array
                ? array
                : ((Collection<?>) flags).stream().map(String::valueOf).toArray(String[]::new);
    }

    private GattCharacteristic1 served() {
        try {
            return bluez.remote(program, ownPath, GattCharacteristic1.class);
        } catch (DBusException e) {
            throw said("Operation failed with ATT error: 0x0e");
        }
    }

    private Map<String, Variant<?>> options(int offset) {
        Map<String, Variant<?>> options = new HashMap<>();
        options.put("device", new Variant<>(new DBusPath(visitor)));
        options.put("link", new Variant<>("LE"));
        options.put("mtu", new Variant<>(new UInt16(mtu)));
        if (offset > 0) {
            options.put("offset", new Variant<>(new UInt16(offset)));
        }
        return options;
    }

    @Override
    public byte[] ReadValue(Map<String, Variant<?>> unused) {
        ByteArrayOutputStream all = new ByteArrayOutputStream();
        try {
            int taken;
            do {
                byte[] rest = served().ReadValue(options(all.size()));
                taken = Math.min(rest.length, mtu - 1);
                all.write(rest, 0, taken);
            } while (taken == mtu - 1);
        } catch (DBusException e) {
            throw said("Read not permitted");
        }
        return all.toByteArray();
    }

    @Override
    public void WriteValue(byte[] value, Map<String, Variant<?>> unused) {
        try {
            served().WriteValue(value, options(0));
        } catch (DBusException e) {
            throw said("Write not permitted");
        }
    }

    @Override
    public TwoTuple<FileDescriptor, UInt16> AcquireWrite(Map<String, Variant<?>> unused) {
        throw said("Operation is not supported");
    }

    @Override
    public synchronized TwoTuple<FileDescriptor, UInt16> AcquireNotify(Map<String, Variant<?>> unused) {
        int[] pair = new int[2];
        FakeCell.C.socketpair(FakeCell.C.AF_UNIX, FakeCell.C.SOCK_SEQPACKET, 0, pair);
        toStation = pair[0];
        ended = false;
        try {
            if (bySocket) {
                int received =
                        served().AcquireNotify(options(0)).getFirstValue().getIntFileDescriptor();
                int fromProgram = Posix.takeOver(received);
                pump = new Thread(() -> pump(fromProgram), "relay " + ownPath);
                pump.setDaemon(true);
                pump.start();
            } else {
                signals = bluez.listen(program, served(), signal -> {
                    Variant<?> value = signal.getPropertiesChanged().get("Value");
                    if (value != null && signal.getPath().equals(ownPath)) {
                        send(Notifications.bytesOf(value.getValue()));
                    }
                });
                served().StartNotify();
            }
        } catch (DBusException e) {
            throw said("Operation failed with ATT error: 0x0e");
        }
        return new TwoTuple<>(new FileDescriptor(pair[1]), new UInt16(mtu));
    }

    private void pump(int fromProgram) {
        Memory pollFd = new Memory(8);
        Memory buffer = new Memory(600);
        try {
            while (!ended) {
                Posix.Readiness readiness = Posix.await(fromProgram, pollFd, 50);
                int length = readiness == Posix.Readiness.READABLE ? Posix.readMessage(fromProgram, buffer) : -1;
                if (length == 0 || readiness == Posix.Readiness.ENDED) {
                    return;
                }
                if (length > 0) {
                    send(buffer.getByteArray(0, length));
                }
            }
        } catch (LastErrorException e) {
            ended = true; // The program has gone.
        } finally {
            Posix.closeDescriptor(fromProgram);
        }
    }

    /** Notifies the station; what does not fit into a packet is cut off, as BlueZ does. */
    private synchronized void send(byte[] value) {
        if (toStation >= 0) {
            FakeCell.C.send(toStation, value, Math.min(value.length, mtu - 3), 0x4000);
        }
    }

    /** Ends the subscription of the station. */
    void end() {
        Thread pumping;
        synchronized (this) {
            ended = true;
            pumping = pump;
            pump = null;
            if (toStation >= 0) {
                FakeCell.C.close(toStation);
                toStation = -1;
            }
        }
        try {
            if (pumping != null) {
                pumping.join();
            }
            AutoCloseable listening = signals;
            if (listening != null) {
                signals = null;
                listening.close();
                served().StopNotify();
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        } catch (Exception e) {
            ended = true; // The program has gone, and with it the subscription.
        }
    }

    @Override
    public void StartNotify() throws BluezFailedException {
        throw new BluezFailedException("the stand-in gives sockets");
    }

    @Override
    public void StopNotify() {
        end();
    }

    @Override
    public void Confirm() {
        // Indications are not used.
    }
}
