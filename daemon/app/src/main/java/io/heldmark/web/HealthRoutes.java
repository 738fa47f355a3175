package io.heldmark.web;

import io.javalin.config.RoutesConfig;

/** {@code GET /healthz}: the station is up. */
final class HealthRoutes {
    private final String version;

    /** Makes the routes. */
    HealthRoutes(String version) {
        this.version = version;
    }

    /** Registers the routes. */
    void register(RoutesConfig routes) {
        routes.get(
                "/healthz",
                ctx -> Json.answer(ctx, 200, Json.object().put("status", "ok").put("version", version)));
    }
}
