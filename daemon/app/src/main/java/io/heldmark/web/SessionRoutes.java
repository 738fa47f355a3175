package io.heldmark.web;

import com.fasterxml.jackson.databind.JsonNode;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import io.javalin.http.Cookie;
import io.javalin.http.SameSite;
import java.util.List;

/** {@code POST /api/v1/session}: exchanges the token for a cookie that scripts cannot read. */
final class SessionRoutes {
    /** The only path of the interface that is open without a token. */
    static final String PATH = "/api/v1/session";

    private static final int UNTIL_THE_BROWSER_ENDS = -1;

    private final AccessPolicy policy;
    private final WebCounters counters;

    /** Makes the routes. */
    SessionRoutes(AccessPolicy policy, WebCounters counters) {
        this.policy = policy;
        this.counters = counters;
    }

    /** Registers the routes. */
    void register(RoutesConfig routes) {
        routes.post(PATH, this::open);
    }

    private void open(Context ctx) {
        JsonNode token = Json.body(ctx, List.of("token")).path("token");
        if (!token.isTextual()) {
            throw new ApiException(400, "token is the text after #token= in the address.");
        }
        if (policy.needsToken()) {
            String session = policy.openSession(token.asText());
            if (session == null) {
                counters.refused.increment();
                throw new ApiException(403, "That is not the token of this station.");
            }
            ctx.cookie(new Cookie(
                    AccessPolicy.COOKIE,
                    session,
                    "/",
                    UNTIL_THE_BROWSER_ENDS,
                    policy.secure(),
                    true,
                    null,
                    SameSite.STRICT));
        }
        ctx.status(204);
    }
}
