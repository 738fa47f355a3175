package io.heldmark.web;

import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.link.ble.CellInRange;
import io.heldmark.link.serial.SerialPorts;

/** What is known of a device that a link could name, as JSON: the same for people's programs and for the viewer. */
public final class DeviceJson {
    private DeviceJson() {}

    /** Returns a serial port; members without a value are left out. */
    public static ObjectNode of(SerialPorts.Port port) {
        ObjectNode node = Json.object().put("link", port.link()).put("path", port.path());
        putKnown(node, "description", port.description());
        putKnown(node, "manufacturer", port.manufacturer());
        putKnown(node, "serialNumber", port.serialNumber());
        return node.put("usable", port.usable());
    }

    /** Returns a Bluetooth cell in range; members without a value are left out. */
    public static ObjectNode of(CellInRange cell) {
        ObjectNode node = Json.object().put("link", cell.link()).put("address", cell.address());
        putKnown(node, "name", cell.name());
        if (cell.rssiDbm() != CellInRange.RSSI_UNKNOWN) {
            node.put("rssiDbm", cell.rssiDbm());
        }
        return node.put("paired", cell.paired()).put("connected", cell.connected());
    }

    private static void putKnown(ObjectNode node, String name, String text) {
        if (!text.isEmpty()) {
            node.put(name, text);
        }
    }
}
