package io.heldmark.web;

import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.config.ConfigException;
import io.heldmark.model.SaidConditions;
import io.heldmark.pipeline.ConditionsJson;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.util.List;

/** {@code PUT /api/v1/trials}: says something of the trials from now on, in place of what was said before. */
final class TrialRoutes {
    private final StationPort station;

    /** Makes the routes. */
    TrialRoutes(StationPort station) {
        this.station = station;
    }

    /** Registers the routes. */
    void register(RoutesConfig routes) {
        routes.put("/api/v1/trials", this::set);
    }

    private void set(Context ctx) {
        SaidConditions said = said(Json.body(ctx));
        if (station.replayState() != null) {
            throw new ApiException(
                    409, "A recording is being played; what was said of its trials is that of the recording.");
        }
        if (!station.trials(said)) {
            throw new ApiException(503, "The station is too busy to take this now; try again.");
        }
        Json.answer(ctx, 200, ConditionsJson.event(said));
    }

    private static SaidConditions said(ObjectNode body) {
        try {
            return ConditionsJson.read(body, List.of());
        } catch (ConfigException | IllegalArgumentException e) {
            throw new ApiException(400, Json.printable(String.valueOf(e.getMessage())) + ".");
        }
    }
}
