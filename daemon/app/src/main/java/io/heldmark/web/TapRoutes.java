package io.heldmark.web;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.model.ChannelInfo;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.util.List;

/** {@code POST /api/v1/tap}: asks to align two cells by a knock that both see. */
final class TapRoutes {
    private static final String LEFT = "leftChannel";
    private static final String RIGHT = "rightChannel";

    private final StationPort station;

    /** Makes the routes. */
    TapRoutes(StationPort station) {
        this.station = station;
    }

    /** Registers the routes. */
    void register(RoutesConfig routes) {
        routes.post("/api/v1/tap", this::listen);
    }

    private void listen(Context ctx) {
        ObjectNode body = Json.body(ctx, List.of(LEFT, RIGHT, "forget"));
        if (station.replayState() != null) {
            throw new ApiException(409, "A recording is being played; its knocks are those of the recording.");
        }
        JsonNode forget = body.path("forget");
        if (!forget.isMissingNode() && !forget.isBoolean()) {
            throw new ApiException(400, "forget is true or false.");
        }
        if (!station.tap(channels(body), forget.asBoolean())) {
            throw new ApiException(503, "The station is too busy to wait for a knock now; try again.");
        }
        Json.answer(ctx, 202, Json.object());
    }

    private List<Integer> channels(ObjectNode body) {
        if (!body.has(LEFT) && !body.has(RIGHT)) {
            return List.of();
        }
        return List.of(channel(body.path(LEFT)), channel(body.path(RIGHT)));
    }

    private int channel(JsonNode node) {
        if (!node.isInt()) {
            throw new ApiException(400, "Give leftChannel and rightChannel as channel numbers, or neither.");
        }
        for (ChannelInfo known : station.channels()) {
            if (known.channel() == node.intValue()) {
                return node.intValue();
            }
        }
        throw new ApiException(404, "There is no such channel: " + node + ".");
    }
}
