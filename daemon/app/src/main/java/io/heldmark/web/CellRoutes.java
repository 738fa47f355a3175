package io.heldmark.web;

import io.heldmark.cell.CellReport;
import io.heldmark.model.LinkHealth;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import org.jspecify.annotations.Nullable;

/** {@code GET /api/v1/cells/CHANNEL}: what can be said of the cell behind a channel now. */
final class CellRoutes {
    private final StationPort station;

    /** Makes the routes. */
    CellRoutes(StationPort station) {
        this.station = station;
    }

    /** Registers the routes. */
    void register(RoutesConfig routes) {
        routes.get("/api/v1/cells/{channel}", this::report);
    }

    private void report(Context ctx) {
        String channel = ctx.pathParam("channel");
        CellReport report = channel.matches("[0-9]{1,4}") ? station.cell(Integer.parseInt(channel)) : null;
        if (report == null) {
            throw new ApiException(404, "There is no such channel.");
        }
        Json.answer(ctx, 200, CellJson.of(report, health(report.channel().link())));
    }

    private @Nullable LinkHealth health(String link) {
        for (LinkHealth one : station.linkHealth()) {
            if (one.link().equals(link)) {
                return one;
            }
        }
        return null;
    }
}
