package io.heldmark.simulator.device;

import io.heldmark.protocol.GattEncoder;
import io.heldmark.simulator.scenario.CellSpec;
import java.util.Arrays;

/** What can be known of a device before it runs. */
public final class PowerUp {
    private static final int ROOM = 1024;

    private PowerUp() {}

    /** Returns the value of describe that a cell has when it is switched on (GATT binding). */
    public static byte[] describeValue(CellSpec cell) {
        byte[] chunk = new byte[ROOM];
        long rateMilliHz = Math.round(cell.sampleRateHz() * 1000);
        int length = new GattEncoder().describe(new Identity(cell).describe(rateMilliHz), chunk, 0);
        return Arrays.copyOfRange(chunk, 1, length); // Without the byte that names the characteristic.
    }
}
