package io.heldmark.web;

import com.fasterxml.jackson.databind.JsonNode;
import io.heldmark.pipeline.Station;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.util.List;

/** {@code POST /api/v1/marks}: sets a mark in the session. */
final class MarkRoutes {
    private static final int MAX_CHARACTERS = Station.MARK_CHARACTERS_MAX;

    private final StationPort station;

    /** Makes the routes. */
    MarkRoutes(StationPort station) {
        this.station = station;
    }

    /** Registers the routes. */
    void register(RoutesConfig routes) {
        routes.post("/api/v1/marks", this::set);
    }

    private void set(Context ctx) {
        JsonNode node = Json.body(ctx, List.of("text")).path("text");
        String text = node.asText().strip();
        if (!node.isTextual() || text.isEmpty() || text.length() > MAX_CHARACTERS) {
            throw new ApiException(400, "text is a sentence of 1 to " + MAX_CHARACTERS + " characters.");
        }
        if (station.replayState() != null) {
            throw new ApiException(409, "A recording is being played; marks belong to live sessions.");
        }
        long atNs = station.mark(text);
        if (atNs < 0) {
            throw new ApiException(503, "The station is too busy to set the mark now; try again.");
        }
        Json.answer(
                ctx,
                200,
                Json.object().put("type", "mark").put("atS", atNs / 1e9).put("text", text));
    }
}
