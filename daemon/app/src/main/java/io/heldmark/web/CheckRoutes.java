package io.heldmark.web;

import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.cells.CheckDesk;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.util.List;

/** {@code /api/v1/cells/CHANNEL/check}: the quick check of a cell, what it found before, and what deserves a look. */
final class CheckRoutes {
    private static final String CHECK = "/api/v1/cells/{channel}/check";

    private final CheckDesk desk;

    /** Makes the routes; {@link CalibrationRoutes} says how refusals are answered. */
    CheckRoutes(CheckDesk desk) {
        this.desk = desk;
    }

    /** Registers the routes. */
    void register(RoutesConfig routes) {
        routes.get(CHECK, ctx -> Json.answer(ctx, 200, desk.state(channel(ctx))));
        routes.post(CHECK, ctx -> {
            ObjectNode plan = Json.body(ctx, CheckDesk.planMembers());
            Json.answer(ctx, 201, desk.begin(channel(ctx), plan));
        });
        routes.post(CHECK + "/readings", ctx -> {
            String of = Json.body(ctx, List.of("of")).path("of").asText();
            if (!of.equals("zero") && !of.equals("load")) {
                throw new ApiException(400, "of is zero or load.");
            }
            Json.answer(ctx, 200, desk.take(channel(ctx), of));
        });
        routes.post(CHECK + "/cancel", ctx -> {
            Json.body(ctx, List.of());
            Json.answer(ctx, 200, desk.cancel(channel(ctx)));
        });
    }

    private static int channel(Context ctx) {
        return CalibrationRoutes.channel(ctx.pathParam("channel"));
    }
}
