package io.heldmark.web;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.link.ble.CellInRange;
import io.heldmark.link.serial.SerialPorts;
import io.heldmark.link.stream.UnavailableException;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.util.List;
import java.util.concurrent.locks.ReentrantLock;

/** {@code POST /api/v1/devices}: looks for the serial ports of this computer and the Bluetooth cells in range. */
final class DeviceRoutes {
    private static final int LONGEST_S = 10;
    private static final int USUAL_S = 3;

    /** Looks for devices. */
    interface Finder {
        /** Returns the serial ports. */
        List<SerialPorts.Port> ports();

        /**
         * Returns the Bluetooth cells that are seen within a time.
         *
         * @throws UnavailableException if this computer cannot look, with the reason.
         */
        List<CellInRange> cells(long forMs) throws UnavailableException;
    }

    private final Finder finder;
    private final ReentrantLock looking = new ReentrantLock();

    /** Makes the routes. */
    DeviceRoutes(Finder finder) {
        this.finder = finder;
    }

    /** Registers the routes. */
    void register(RoutesConfig routes) {
        routes.post("/api/v1/devices", this::look);
    }

    private void look(Context ctx) {
        int seconds = Json.body(ctx, List.of("bleSeconds")).path("bleSeconds").asInt(USUAL_S);
        if (seconds < 0 || seconds > LONGEST_S) {
            throw new ApiException(400, "bleSeconds is 0 to " + LONGEST_S + ".");
        }
        if (!looking.tryLock()) {
            throw new ApiException(409, "The station is looking for devices already.");
        }
        try {
            Json.answer(ctx, 200, found(seconds));
        } finally {
            looking.unlock();
        }
    }

    private ObjectNode found(int seconds) {
        ObjectNode out = Json.object();
        ArrayNode ports = out.putArray("ports");
        finder.ports().forEach(port -> ports.add(DeviceJson.of(port)));
        ArrayNode cells = out.putArray("cells");
        try {
            if (seconds > 0) {
                finder.cells(1000L * seconds).forEach(cell -> cells.add(DeviceJson.of(cell)));
            }
        } catch (UnavailableException e) {
            out.put("cellsReason", e.reason());
        }
        return out;
    }
}
