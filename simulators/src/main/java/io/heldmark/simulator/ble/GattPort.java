package io.heldmark.simulator.ble;

import io.heldmark.protocol.Command;
import io.heldmark.protocol.GattEncoder;
import io.heldmark.simulator.device.PowerUp;
import io.heldmark.simulator.link.GattValues;
import io.heldmark.simulator.scenario.CellSpec;
import io.heldmark.simulator.sender.Port;
import java.util.Arrays;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.TimeUnit;

/** What both ways of offering a cell over GATT share: describe is kept to be read, the rest is notified, commands come in. */
abstract class GattPort implements Port {
    private static final int WAIT_MS = 20;
    private static final int COMMANDS_KEPT = 64;
    private static final int FIRST_PERCENT = 96;
    private static final int STATUS = 0x03;
    private static final int CHARGE_AT = 5;

    private final BlockingQueue<byte[]> written = new ArrayBlockingQueue<>(COMMANDS_KEPT);
    private volatile byte[] describe;
    private volatile int batteryPercent = FIRST_PERCENT;

    /** Makes the port of a cell, which can be described from the beginning: a station may come before time begins. */
    GattPort(CellSpec cell) {
        describe = PowerUp.describeValue(cell);
    }

    /** Returns the value of describe. */
    final byte[] describe() {
        return describe;
    }

    /** Returns the charge that the last status told, in percent. */
    final int batteryPercent() {
        return batteryPercent;
    }

    /** Takes a value that the station wrote to the command characteristic; what the device cannot keep is lost. */
    final void takeCommand(byte[] value) {
        byte[] chunk = new byte[value.length + 1];
        chunk[0] = GattNames.COMMAND_BYTE;
        System.arraycopy(value, 0, chunk, 1, value.length);
        written.offer(chunk);
    }

    /** The connection or the subscription has ended: the device stops streaming. */
    final void takeEnd() {
        byte[] stop = new byte[8];
        int length = new GattEncoder().command(new Command(Command.STOP, 0, new byte[0]), stop, 0);
        written.offer(Arrays.copyOf(stop, length));
    }

    /**
     * Notifies a value; never waits.
     *
     * @return whether it went on its way: somebody has subscribed, it fits, and there is room.
     */
    abstract boolean tell(byte characteristic, byte[] value);

    @Override
    public final int write(byte[] bytes, int offset, int length) {
        if (offset != 0) {
            throw new IllegalArgumentException("deliveries begin at 0: offset=" + offset);
        }
        int[] taken = new int[1];
        GattValues.each(bytes, length, (b, at, n) -> {
            byte[] value = Arrays.copyOfRange(b, at + 1, at + n);
            boolean gone = true;
            if (b[at] == GattNames.DESCRIBE_BYTE) {
                describe = value;
            } else {
                noteCharge(b[at], value);
                gone = tell(b[at], value);
            }
            taken[0] += gone ? GattValues.LENGTH_BYTES + n : 0;
        });
        return taken[0];
    }

    /** The charge in the battery service and in status must agree. */
    private void noteCharge(byte characteristic, byte[] value) {
        if (characteristic == GattNames.REPLY_BYTE && value.length > CHARGE_AT && value[0] == STATUS) {
            batteryPercent = value[CHARGE_AT] & 0xFF;
        }
    }

    @Override
    public final int read(byte[] into) {
        try {
            byte[] value = written.poll(WAIT_MS, TimeUnit.MILLISECONDS);
            if (value == null || value.length > into.length) {
                return 0;
            }
            System.arraycopy(value, 0, into, 0, value.length);
            return value.length;
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            return 0;
        }
    }
}
