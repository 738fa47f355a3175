package io.heldmark.web;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.metric.Metric;
import io.heldmark.metric.MetricRegistry;
import io.javalin.config.RoutesConfig;

/** {@code GET /api/v1/metrics}: what the station measures of a contraction and of a pair, in words. */
final class MetricListRoutes {
    /** Registers the routes. */
    void register(RoutesConfig routes) {
        String list = list().toString(); // Never changes while the station runs.
        routes.get("/api/v1/metrics", ctx -> Json.answer(ctx, 200, list));
    }

    private static ObjectNode list() {
        ObjectNode json = Json.object();
        ArrayNode contraction = json.putArray("contraction");
        MetricRegistry.standard().metrics().forEach(m -> add(contraction, m.id(), m.unit(), m.describe()));
        ArrayNode effort = json.putArray("effort");
        MetricRegistry.pairs().forEach(m -> add(effort, m.id(), m.unit(), m.describe()));
        return json;
    }

    private static void add(ArrayNode list, String id, String unit, Metric.Description d) {
        list.addObject()
                .put("id", id)
                .put("title", d.title())
                .put("unit", unit)
                .put("definition", d.formula())
                .put("notComputed", d.notComputed())
                .put("uncertainty", d.uncertainty())
                .put("source", d.source());
    }
}
