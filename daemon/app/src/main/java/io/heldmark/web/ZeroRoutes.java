package io.heldmark.web;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.util.ArrayList;
import java.util.List;

/** {@code POST /api/v1/zero}: asks for the session zero. */
final class ZeroRoutes {
    private final StationPort station;

    /** Makes the routes. */
    ZeroRoutes(StationPort station) {
        this.station = station;
    }

    /** Registers the routes. */
    void register(RoutesConfig routes) {
        routes.post("/api/v1/zero", this::take);
    }

    private void take(Context ctx) {
        List<Integer> channels = channels(Json.body(ctx, List.of("channels")));
        if (station.replayState() != null) {
            throw new ApiException(409, "A recording is being played; its zeros are those of the recording.");
        }
        try {
            if (!station.zero(channels)) {
                throw new ApiException(503, "The station is too busy to take the zero now; try again.");
            }
        } catch (IllegalArgumentException e) {
            throw new ApiException(404, "There is no such channel: " + channels + ".");
        }
        Json.answer(ctx, 202, Json.object());
    }

    private static List<Integer> channels(ObjectNode body) {
        JsonNode node = body.get("channels");
        List<Integer> channels = new ArrayList<>();
        if (node == null) {
            return channels;
        }
        if (!node.isArray() || node.isEmpty()) {
            throw new ApiException(400, "channels is a list of channel numbers; leave it out for all.");
        }
        for (JsonNode one : node) {
            if (!one.isInt() || one.intValue() < 0) {
                throw new ApiException(400, "channels is a list of channel numbers; leave it out for all.");
            }
            channels.add(one.intValue());
        }
        return channels;
    }
}
