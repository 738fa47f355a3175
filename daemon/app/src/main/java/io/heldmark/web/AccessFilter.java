package io.heldmark.web;

import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;

/** Puts {@link AccessPolicy} before every request and every WebSocket, and the security headers on every answer. */
final class AccessFilter {
    /**
     * Everything comes from the station itself: no inline script, no frame, no form, no other host. {@code 'self'} covers
     * the WebSocket of the same host (W3C Content Security Policy Level 3, section 6.7.2.8).
     */
    static final String CONTENT_SECURITY_POLICY = "default-src 'self'; img-src 'self' data:; object-src 'none';"
            + " base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

    private final AccessPolicy policy;
    private final WebCounters counters;

    /** Makes the filter. */
    AccessFilter(AccessPolicy policy, WebCounters counters) {
        this.policy = policy;
        this.counters = counters;
    }

    /** Registers the checks. */
    void register(RoutesConfig routes) {
        routes.before(this::check);
        routes.wsBeforeUpgrade(this::check);
    }

    private void check(Context ctx) {
        counters.requests.increment();
        ctx.header("Content-Security-Policy", CONTENT_SECURITY_POLICY);
        ctx.header("X-Content-Type-Options", "nosniff");
        ctx.header("X-Frame-Options", "DENY");
        ctx.header("Referrer-Policy", "no-referrer");
        ctx.header("Cross-Origin-Opener-Policy", "same-origin");
        ctx.header("Cross-Origin-Resource-Policy", "same-origin");
        ctx.header("Cache-Control", "no-store");
        String host = ctx.header("Host");
        if (!policy.hostAllowed(host)) {
            refuse(403, "This station does not answer to that host name; open it by its address or as localhost.");
        }
        if (!policy.originAllowed(ctx.header("Origin"), host)) {
            refuse(403, "Only pages of this station may ask it.");
        }
        if (needsToken(ctx.path())
                && !policy.tokenShown(ctx.cookie(AccessPolicy.COOKIE), ctx.header("Authorization"))) {
            refuse(403, "A token is needed: open the address that the station printed when it started.");
        }
    }

    /** The page itself holds nothing secret, and must load to show the token; health says nothing about anybody. */
    private static boolean needsToken(String path) {
        boolean secret = path.startsWith("/api/") || path.startsWith("/ws/") || path.equals("/metrics");
        return secret && !path.equals(SessionRoutes.PATH);
    }

    private void refuse(int status, String sentence) {
        counters.refused.increment();
        throw new ApiException(status, sentence);
    }
}
