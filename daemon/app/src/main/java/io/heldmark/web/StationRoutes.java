package io.heldmark.web;

import io.javalin.config.RoutesConfig;

/** {@code GET /api/v1/station}: the whole state, as a viewer gets it first. */
final class StationRoutes {
    private final StationPort station;

    /** Makes the routes. */
    StationRoutes(StationPort station) {
        this.station = station;
    }

    /** Registers the routes. */
    void register(RoutesConfig routes) {
        routes.get("/api/v1/station", ctx -> Json.answer(ctx, 200, station.stationJson()));
    }
}
