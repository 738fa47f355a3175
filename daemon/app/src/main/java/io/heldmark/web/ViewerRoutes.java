package io.heldmark.web;

import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.io.IOException;
import java.io.InputStream;
import java.util.Locale;
import java.util.Map;
import java.util.regex.Pattern;

/**
 * The viewer's files, from the class path folder {@code /heldmark-viewer/}.
 *
 * <p>A request never becomes a path on the disk: only names of plain characters whose parts do not begin with a dot are
 * looked up, and only as resources. Files under {@code assets/} carry a hash of their content in the name and may be kept
 * for ever; everything else is asked for anew each time.
 */
final class ViewerRoutes {
    private static final String FOLDER = "heldmark-viewer/";
    private static final Pattern NAME = Pattern.compile("[A-Za-z0-9_-][A-Za-z0-9._-]*(/[A-Za-z0-9_-][A-Za-z0-9._-]*)*");
    private static final Map<String, String> TYPES = Map.ofEntries(
            Map.entry("html", "text/html; charset=utf-8"),
            Map.entry("js", "text/javascript; charset=utf-8"),
            Map.entry("css", "text/css; charset=utf-8"),
            Map.entry("json", "application/json; charset=utf-8"),
            Map.entry("webmanifest", "application/manifest+json; charset=utf-8"),
            Map.entry("map", "application/json; charset=utf-8"),
            Map.entry("svg", "image/svg+xml"),
            Map.entry("png", "image/png"),
            Map.entry("ico", "image/x-icon"),
            Map.entry("woff2", "font/woff2"),
            Map.entry("txt", "text/plain; charset=utf-8"));
    private static final String NOT_PACKED = """
            <!doctype html>
            <html lang="en"><head><meta charset="utf-8"><title>Heldmark</title></head>
            <body><h1>The station is running, its viewer is not packed</h1>
            <p>This build has no viewer in it. Build it whole with <code>mvn -pl daemon/app -am package</code>, or start
            the station with <code>./heldmark</code>, which builds what is missing. The live protocol, the API and
            <a href="/metrics">/metrics</a> work without it.</p></body></html>
            """;

    /** Registers the routes; the last ones to be registered, since they take every path that is left. */
    void register(RoutesConfig routes) {
        routes.get("/", ctx -> serve(ctx, "index.html"));
        routes.get("/<path>", ctx -> serve(ctx, ctx.pathParam("path")));
    }

    private static void serve(Context ctx, String path) throws IOException {
        String type = TYPES.get(path.substring(path.lastIndexOf('.') + 1).toLowerCase(Locale.ROOT));
        if (type == null || !NAME.matcher(path).matches()) {
            throw new ApiException(404, "There is nothing here.");
        }
        try (InputStream in = ViewerRoutes.class.getClassLoader().getResourceAsStream(FOLDER + path)) {
            if (in == null) {
                missing(ctx, path);
                return;
            }
            byte[] content = in.readAllBytes();
            boolean hashed = path.startsWith("assets/");
            ctx.header("Cache-Control", hashed ? "public, max-age=31536000, immutable" : "no-cache");
            ctx.contentType(type).result(content);
        }
    }

    private static void missing(Context ctx, String path) {
        if (!path.equals("index.html")) {
            throw new ApiException(404, "There is nothing here.");
        }
        ctx.status(503).contentType("text/html; charset=utf-8").result(NOT_PACKED);
    }
}
