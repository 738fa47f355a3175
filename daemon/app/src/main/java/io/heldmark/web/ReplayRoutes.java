package io.heldmark.web;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.model.ReplayState;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.util.List;

/** {@code POST /api/v1/replay}: pauses, paces or restarts the recording that is being played. */
final class ReplayRoutes {
    private static final double SLOWEST = 0.1;
    private static final double FASTEST = 100;

    private final StationPort station;

    /** Makes the routes. */
    ReplayRoutes(StationPort station) {
        this.station = station;
    }

    /** Registers the routes. */
    void register(RoutesConfig routes) {
        routes.post("/api/v1/replay", this::control);
    }

    private void control(Context ctx) {
        ObjectNode body = Json.body(ctx, List.of("paused", "speed", "restart"));
        check(body);
        if (station.replayState() == null) {
            throw new ApiException(409, "This is a live session, not a recording.");
        }
        if (body.has("speed")) {
            station.replaySpeed(body.get("speed").doubleValue());
        }
        if (body.has("paused")) {
            station.pauseReplay(body.get("paused").booleanValue());
        }
        if (body.path("restart").booleanValue()) {
            station.restartReplay();
        }
        ReplayState state = station.replayState();
        Json.answer(ctx, 200, state == null ? Json.object() : json(state));
    }

    private static void check(ObjectNode body) {
        if (body.isEmpty()) {
            throw new ApiException(400, "Give at least one of paused, speed and restart.");
        }
        JsonNode speed = body.path("speed");
        double value = speed.doubleValue();
        boolean fits = speed.isNumber() && (value == 0 || (value >= SLOWEST && value <= FASTEST));
        if (!speed.isMissingNode() && !fits) {
            throw new ApiException(400, "speed is 0.1 to 100, or 0 for as fast as possible.");
        }
        for (String name : List.of("paused", "restart")) {
            if (body.has(name) && !body.get(name).isBoolean()) {
                throw new ApiException(400, name + " is true or false.");
            }
        }
    }

    /** Returns the {@code replay} object of the live protocol. */
    static ObjectNode json(ReplayState state) {
        return Json.object()
                .put("type", "replay")
                .put("file", state.file())
                .put("positionS", state.positionNs() / 1e9)
                .put("durationS", state.durationNs() / 1e9)
                .put("speed", state.speed())
                .put("paused", state.paused())
                .put("ended", state.ended());
    }
}
