package io.heldmark.link.ble;

/**
 * A cell that advertises the Gaugeline service.
 *
 * @param address Bluetooth address, for example {@code 00:AA:01:01:00:01}.
 * @param name name that it advertises; for people only, never to find it by.
 * @param rssiDbm received signal strength, in dBm; {@link #RSSI_UNKNOWN} where not known.
 * @param paired whether it is bonded with this computer.
 * @param connected whether it is connected with this computer.
 */
public record CellInRange(String address, String name, int rssiDbm, boolean paired, boolean connected) {
    /** Stands for a signal strength that is not known. */
    public static final int RSSI_UNKNOWN = Integer.MIN_VALUE;

    /** Returns the link address that a user writes. */
    public String link() {
        return "ble:" + address;
    }
}
