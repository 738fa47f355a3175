package io.heldmark.web;

import io.javalin.config.RoutesConfig;

/** {@code GET /metrics}: everything that is counted, in the Prometheus text format. */
final class MetricsRoutes {
    private final StationPort station;
    private final WebCounters counters;

    /** Makes the routes. */
    MetricsRoutes(StationPort station, WebCounters counters) {
        this.station = station;
        this.counters = counters;
    }

    /** Registers the routes. */
    void register(RoutesConfig routes) {
        routes.get("/metrics", ctx -> {
            PrometheusText out = new PrometheusText();
            station.writeMetrics(out);
            counters.write(out);
            ProcessMetrics.write(out);
            ctx.contentType("text/plain; version=0.0.4; charset=utf-8").result(out.text());
        });
    }
}
