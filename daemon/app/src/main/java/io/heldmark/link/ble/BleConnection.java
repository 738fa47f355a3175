package io.heldmark.link.ble;

import io.heldmark.link.stream.Connection;
import io.heldmark.time.StationClock;
import java.io.IOException;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * One connection to a cell: each read is one value, its first byte the characteristic, stamped when the stack handed it
 * over.
 *
 * <p>Describe is not notified: it is read at the beginning, and again after a reply that says that it has changed or was asked
 * for (commands describe, set rate and write calibration).
 */
final class BleConnection implements Connection, GattCentral.Listener {
    private static final Logger LOG = LoggerFactory.getLogger(BleConnection.class);
    private static final int READ_WAIT_MS = 250;
    private static final int TYPE_REPLY = 0x04;
    private static final int SMALLEST_MTU = 23;

    /** About 10 dB above the sensitivity of common receivers at 1 Mbit/s (common practice, no published source). */
    private static final int WEAK_DBM = -85;

    private final ValueRing ring;
    private final long[] arrivalNs = new long[1];
    private boolean describeDue = true;
    private volatile @Nullable GattPeer peer;
    private volatile String goneReason = "the cell ended the connection";

    BleConnection(StationClock clock) {
        ring = new ValueRing(clock);
        arrivalNs[0] = clock.nowNs();
    }

    /** Takes over the connected cell; values may have come before. */
    void begin(GattPeer connected) {
        peer = connected;
    }

    @Override
    public void onValue(byte characteristic, byte[] value, int length) {
        ring.offer(characteristic, value, length);
    }

    @Override
    public void onGone(String reason) {
        goneReason = reason;
        ring.end();
    }

    @Override
    public int read(byte[] buffer) throws IOException {
        if (describeDue) {
            describeDue = false;
            return readDescribe(buffer);
        }
        try {
            int length = ring.take(buffer, arrivalNs, READ_WAIT_MS);
            if (length < 0) {
                throw new IOException(goneReason);
            }
            describeDue = length >= 5 && asksForDescribe(buffer);
            return length;
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new IOException("interrupted", e);
        }
    }

    private static boolean asksForDescribe(byte[] chunk) {
        boolean reply = chunk[0] == GattNames.REPLY_BYTE && chunk[1] == TYPE_REPLY;
        return reply && chunk[4] == 0 && (chunk[2] == 1 || chunk[2] == 4 || chunk[2] == 7);
    }

    private int readDescribe(byte[] buffer) throws IOException {
        GattPeer cell = requirePeer();
        byte[] value = cell.readDescribe();
        if (value.length > GattNames.LONGEST_VALUE_BYTES) {
            throw new IOException("the cell's describe is longer than a characteristic may be");
        }
        buffer[0] = GattNames.DESCRIBE_BYTE;
        System.arraycopy(value, 0, buffer, 1, value.length);
        // No arrival of its own: values that came while it was read follow, and times must not go back.
        return value.length + 1;
    }

    @Override
    public String remark() {
        GattPeer cell = peer;
        if (cell == null) {
            return "";
        }
        int rssiDbm = cell.rssiDbm();
        if (rssiDbm != CellInRange.RSSI_UNKNOWN && rssiDbm <= WEAK_DBM) {
            return "the signal is weak (" + rssiDbm + " dBm): bring the cell nearer, in sight of the adapter";
        }
        return cell.mtu() > 0 && cell.mtu() <= SMALLEST_MTU
                ? "cell and computer agreed on the smallest packets (MTU " + cell.mtu()
                        + "): high sample rates will not fit"
                : "";
    }

    @Override
    public long arrivalNs(StationClock unused) {
        return arrivalNs[0];
    }

    @Override
    public void write(byte[] bytes) throws IOException {
        byte[] value =
                new byte[bytes.length - 1]; // The first byte names the characteristic; only commands are written.
        System.arraycopy(bytes, 1, value, 0, value.length);
        requirePeer().writeCommand(value);
    }

    @Override
    public void close() {
        GattPeer cell = peer;
        if (cell != null) {
            cell.close();
        }
        ring.end();
        if (ring.dropped() > 0) {
            LOG.warn("{} notified values found no room and were dropped", ring.dropped());
        }
    }

    private GattPeer requirePeer() throws IOException {
        GattPeer cell = peer;
        if (cell == null) {
            throw new IOException("not connected");
        }
        return cell;
    }
}
