package io.heldmark.web;

import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.model.Target;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.util.List;
import org.jspecify.annotations.Nullable;

/** {@code PUT /api/v1/target}: sets the target band or takes it away. */
final class TargetRoutes {
    private final StationPort station;

    /** Makes the routes. */
    TargetRoutes(StationPort station) {
        this.station = station;
    }

    /** Registers the routes. */
    void register(RoutesConfig routes) {
        routes.put("/api/v1/target", this::set);
    }

    private void set(Context ctx) {
        Target target = target(Json.body(ctx, List.of("forceN", "tolerancePercent")));
        if (station.replayState() != null) {
            throw new ApiException(409, "A recording is being played; its targets are those of the recording.");
        }
        if (!station.target(target)) {
            throw new ApiException(503, "The station is too busy to set the target now; try again.");
        }
        ObjectNode json = Json.object().put("type", "target");
        if (target != null) {
            json.put("forceN", target.forceN()).put("tolerancePercent", target.tolerancePercent());
        }
        Json.answer(ctx, 200, json);
    }

    private static @Nullable Target target(ObjectNode body) {
        if (body.isEmpty()) {
            return null;
        }
        if (!body.path("forceN").isNumber() || !body.path("tolerancePercent").isNumber()) {
            throw new ApiException(400, "Give forceN and tolerancePercent as numbers, or neither.");
        }
        double forceN = body.path("forceN").doubleValue();
        double tolerancePercent = body.path("tolerancePercent").doubleValue();
        if (!(forceN > 0 && forceN <= 100_000)) {
            throw new ApiException(400, "forceN is above 0 and at most 100000.");
        }
        if (!(tolerancePercent >= 0 && tolerancePercent <= 100)) {
            throw new ApiException(400, "tolerancePercent is 0 to 100.");
        }
        return new Target(forceN, tolerancePercent);
    }
}
