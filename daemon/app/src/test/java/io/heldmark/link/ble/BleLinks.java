package io.heldmark.link.ble;

import io.heldmark.link.Link;
import io.heldmark.link.stream.StreamLink;
import io.heldmark.time.StationClock;
import io.heldmark.time.SystemStationClock;

/** Links over a stack that a test brings. */
public final class BleLinks {
    private BleLinks() {}

    /** Returns a link that is not started. */
    public static Link through(GattCentral central, String address) {
        return through(central, address, "");
    }

    /** Returns a link to a cell with a passkey. */
    public static Link through(GattCentral central, String address, String passkey) {
        StationClock clock = new SystemStationClock();
        return new StreamLink(
                "ble:" + address,
                Link.Binding.GATT,
                () -> {
                    BleConnection connection = new BleConnection(clock);
                    connection.begin(central.connect("", address, passkey, connection));
                    return connection;
                },
                clock);
    }
}
