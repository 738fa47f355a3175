package io.heldmark.web;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.model.Boundaries;
import io.heldmark.model.Contraction;
import io.heldmark.model.Window;
import io.heldmark.pipeline.BoundaryChange;
import io.heldmark.pipeline.Review;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.util.List;
import java.util.Locale;

/** {@code /api/v1/contractions/{id}}: one finished contraction, its samples, and its boundaries by hand. */
final class ContractionRoutes {
    private static final String PATH = "/api/v1/contractions/{id}";
    private static final List<String> TIMES = List.of("onsetS", "releaseStartS", "offsetS");

    private final StationPort station;

    /** Makes the routes. */
    ContractionRoutes(StationPort station) {
        this.station = station;
    }

    /** Registers the routes. */
    void register(RoutesConfig routes) {
        routes.get(PATH, ctx -> Json.answer(ctx, 200, ReviewJson.review(review(ctx))));
        routes.get(PATH + "/samples", this::samples);
        routes.post(PATH + "/boundaries", this::change);
    }

    private void samples(Context ctx) {
        Window window = review(ctx).window();
        if (window == null) {
            throw new ApiException(404, Review.GONE);
        }
        Json.answer(ctx, 200, ReviewJson.samples(window));
    }

    private void change(Context ctx) {
        ObjectNode body = Json.body(ctx, List.of("change", "onsetS", "releaseStartS", "offsetS"));
        BoundaryChange change = read(body, review(ctx));
        String refusal = station.boundaryRefusal(change);
        if (refusal != null) {
            throw new ApiException(409, refusal);
        }
        if (!station.changeBoundary(change)) {
            throw new ApiException(503, "The station is too busy to move the boundary now; try again.");
        }
        Json.answer(ctx, 200, ReviewJson.review(review(ctx)));
    }

    private Review review(Context ctx) {
        String id = ctx.pathParam("id");
        Review review = id.matches("[0-9]{1,15}") ? station.review(Long.parseLong(id)) : null;
        if (review == null) {
            throw new ApiException(404, "There is no such finished contraction, or it is too long ago.");
        }
        return review;
    }

    private static BoundaryChange read(ObjectNode body, Review review) {
        if (body.has("change")) {
            String word = body.path("change").asText();
            if (body.size() > 1 || !List.of("undo", "redo", "automatic").contains(word)) {
                throw new ApiException(400, "change is \"undo\", \"redo\" or \"automatic\", and stands alone.");
            }
            return BoundaryChange.step(review.automatic(), BoundaryChange.Kind.valueOf(word.toUpperCase(Locale.ROOT)));
        }
        if (body.isEmpty()) {
            throw new ApiException(400, "Give change, or at least one of " + String.join(", ", TIMES) + ".");
        }
        Contraction now = review.inForce();
        return BoundaryChange.move(
                review.automatic(),
                new Boundaries(
                        timeNs(body, "onsetS", now.onsetNs()),
                        timeNs(body, "releaseStartS", now.releaseStartNs()),
                        timeNs(body, "offsetS", now.offsetNs())));
    }

    /** Returns a time in nanoseconds: the one asked for, else the one in force. */
    private static long timeNs(ObjectNode body, String name, long inForceNs) {
        JsonNode node = body.get(name);
        if (node == null) {
            return inForceNs;
        }
        if (!node.isNumber() || !(Math.abs(node.doubleValue()) <= 1e9)) {
            throw new ApiException(400, name + " is a station time in seconds.");
        }
        return Math.round(node.doubleValue() * 1e9);
    }
}
