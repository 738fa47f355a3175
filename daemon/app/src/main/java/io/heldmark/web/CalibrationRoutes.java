package io.heldmark.web;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.cells.GuideDesk;
import io.heldmark.cells.Refusal;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;

/** {@code /api/v1/guided-calibration} and {@code /api/v1/cells/CHANNEL/calibrations}: calibrating a cell, and its saved versions. */
final class CalibrationRoutes {
    private static final String GUIDED = "/api/v1/guided-calibration";
    private static final String SAVED = "/api/v1/cells/{channel}/calibrations";

    private final GuideDesk desk;

    /** Makes the routes. */
    CalibrationRoutes(GuideDesk desk) {
        this.desk = desk;
    }

    /** Registers the routes. */
    void register(RoutesConfig routes) {
        routes.exception(Refusal.class, (e, ctx) -> Json.error(ctx, status(e), String.valueOf(e.getMessage())));
        routes.get(GUIDED, ctx -> Json.answer(ctx, 200, desk.state()));
        routes.post(GUIDED, this::begin);
        routes.get(GUIDED + "/level", ctx -> Json.answer(ctx, 200, desk.level()));
        routes.post(GUIDED + "/steps", this::step);
        routes.post(GUIDED + "/save", ctx -> {
            Json.body(ctx, List.of());
            Json.answer(ctx, 200, desk.save());
        });
        routes.post(GUIDED + "/cancel", ctx -> {
            Json.body(ctx, List.of());
            Json.answer(ctx, 200, desk.cancel());
        });
        routes.get(GUIDED + "/certificate.html", this::page);
        routes.get(GUIDED + "/certificate.pdf", this::paper);
        routes.get(SAVED, ctx -> Json.answer(ctx, 200, desk.versions(channel(ctx.pathParam("channel")))));
        routes.put(SAVED, this::choose);
    }

    private static int status(Refusal refusal) {
        return switch (refusal.kind()) {
            case BAD -> 400;
            case UNKNOWN -> 404;
            case NOT_NOW -> 409;
            case FAILED -> 503;
        };
    }

    private void begin(Context ctx) {
        List<String> allowed = new ArrayList<>(List.of("channel"));
        allowed.addAll(GuideDesk.planMembers());
        ObjectNode body = Json.body(ctx, allowed);
        JsonNode channel = body.remove("channel");
        if (channel == null || !channel.isInt()) {
            throw new ApiException(400, "channel is the number of the cell's channel.");
        }
        Json.answer(ctx, 201, desk.begin(channel.asInt(), body));
    }

    private void step(Context ctx) {
        ObjectNode body = Json.body(ctx, List.of("action", "step", "applied", "anyway"));
        String action = body.path("action").asText();
        if (action.equals("undo") && body.size() == 1) {
            Json.answer(ctx, 200, desk.undo());
            return;
        }
        if (!action.equals("take") || !body.path("step").isInt()) {
            throw new ApiException(400, "Give {\"action\":\"take\",\"step\":N} or {\"action\":\"undo\"}.");
        }
        JsonNode applied = body.path("applied");
        JsonNode anyway = body.path("anyway");
        if (!(applied.isMissingNode() || applied.isNumber()) || !(anyway.isMissingNode() || anyway.isBoolean())) {
            throw new ApiException(400, "applied is a number in the unit of the plan, anyway true or false.");
        }
        double shown = applied.isNumber() ? applied.doubleValue() : Double.NaN;
        Json.answer(ctx, 200, desk.take(body.path("step").asInt(), shown, anyway.asBoolean(false)));
    }

    private void choose(Context ctx) {
        ObjectNode body = Json.body(ctx, List.of("version"));
        if (!body.path("version").isInt()) {
            throw new ApiException(400, "version is the number of a saved version.");
        }
        int channel = channel(ctx.pathParam("channel"));
        Json.answer(ctx, 200, desk.choose(channel, body.path("version").asInt()));
    }

    private void page(Context ctx) {
        byte[] file = desk.certificate().html().getBytes(StandardCharsets.UTF_8);
        download(ctx, "html", "text/html; charset=utf-8", file);
    }

    private void paper(Context ctx) {
        try {
            download(ctx, "pdf", "application/pdf", desk.certificate().pdf());
        } catch (IOException e) {
            throw new ApiException(503, "The certificate cannot be written: " + e.getMessage() + ".");
        }
    }

    private static void download(Context ctx, String ending, String type, byte[] file) {
        ctx.header("Content-Disposition", "attachment; filename=\"calibration-certificate." + ending + "\"");
        ctx.status(200).contentType(type).result(file);
    }

    static int channel(String text) {
        return text.matches("[0-9]{1,4}") ? Integer.parseInt(text) : -1;
    }
}
