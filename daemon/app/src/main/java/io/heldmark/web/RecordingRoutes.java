package io.heldmark.web;

import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.model.RecordingState;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.util.List;

/** {@code POST /api/v1/recording}: starts or ends the recording. */
final class RecordingRoutes {
    private final StationPort station;

    /** Makes the routes. */
    RecordingRoutes(StationPort station) {
        this.station = station;
    }

    /** Registers the routes. */
    void register(RoutesConfig routes) {
        routes.post("/api/v1/recording", this::change);
    }

    private void change(Context ctx) {
        String action = Json.body(ctx, List.of("action")).path("action").asText();
        if (!action.equals("start") && !action.equals("stop")) {
            throw new ApiException(400, "action is \"start\" or \"stop\".");
        }
        if (station.replayState() != null) {
            throw new ApiException(409, "A recording is being played; nothing is recorded meanwhile.");
        }
        RecordingState state = action.equals("start") ? station.startRecording() : station.stopRecording();
        Json.answer(ctx, 200, json(state));
    }

    /** Returns the {@code recording} object of the live protocol. */
    static ObjectNode json(RecordingState state) {
        ObjectNode json = Json.object().put("type", "recording").put("state", state.state());
        if (state.file() != null) {
            json.put("file", state.file());
        }
        if (!state.state().equals("off")) {
            json.put("bytes", state.bytes())
                    .put("sinceS", state.sinceNs() / 1e9)
                    .put("complete", state.complete());
        }
        if (state.reason() != null) {
            json.put("reason", state.reason());
        }
        return json;
    }
}
