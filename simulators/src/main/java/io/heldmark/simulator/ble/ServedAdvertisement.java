package io.heldmark.simulator.ble;

import org.bluez.LEAdvertisement1;

/** What BlueZ advertises for a cell: the service, by which stations find it, and a name for people. */
final class ServedAdvertisement extends ServedObject implements LEAdvertisement1 {
    private final Runnable released;

    /**
     * Makes it.
     *
     * @param name name of the cell.
     * @param released told when BlueZ has dropped it.
     */
    ServedAdvertisement(String name, Runnable released) {
        super("/io/heldmark/advertisement", "org.bluez.LEAdvertisement1");
        this.released = released;
        put("Type", "peripheral");
        put("ServiceUUIDs", new String[] {GattNames.SERVICE});
        put("LocalName", name);
        put("Discoverable", true); // Else other BlueZ machines overlook it.
    }

    @Override
    public void Release() {
        released.run();
    }
}
