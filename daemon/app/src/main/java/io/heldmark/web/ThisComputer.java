package io.heldmark.web;

import io.heldmark.link.ble.CellInRange;
import io.heldmark.link.ble.Centrals;
import io.heldmark.link.serial.SerialPorts;
import io.heldmark.link.stream.UnavailableException;
import java.util.List;

/** The devices of the computer that the station runs on. */
final class ThisComputer implements DeviceRoutes.Finder {
    @Override
    public List<SerialPorts.Port> ports() {
        return SerialPorts.list();
    }

    @Override
    public List<CellInRange> cells(long forMs) throws UnavailableException {
        return Centrals.shared().central("auto").cells("", forMs);
    }
}
