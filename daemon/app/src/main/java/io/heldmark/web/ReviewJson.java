package io.heldmark.web;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.live.EventJson;
import io.heldmark.model.Contraction;
import io.heldmark.model.Effort;
import io.heldmark.model.MetricMark;
import io.heldmark.model.Window;
import io.heldmark.pipeline.Review;
import java.util.Locale;

/** A contraction under review as JSON, by the rules of the live protocol: what is not known is absent. */
final class ReviewJson {
    private ReviewJson() {}

    /** Returns everything but the samples. */
    static ObjectNode review(Review review) {
        Contraction automatic = review.automatic();
        ObjectNode json = Json.object().put("id", automatic.id()).put("channel", automatic.channel());
        json.put("unit", review.channel().unit())
                .put("sampleRateHz", review.channel().sampleRateHz());
        json.set("automatic", Json.raw(EventJson.contraction(automatic)));
        Contraction manual = review.manual();
        if (manual != null) {
            json.set("manual", Json.raw(EventJson.contraction(manual)));
        }
        Effort effort = review.effort();
        if (effort != null) {
            json.set("effort", Json.raw(EventJson.effort(effort)));
        }
        json.put("undo", review.undo()).put("redo", review.redo());
        Window window = review.window();
        if (window == null) {
            return json.put("gone", Review.GONE);
        }
        json.put("samples", window.size())
                .put("firstS", window.timeNs(0) / 1e9)
                .put("lastS", window.timeNs(window.size() - 1) / 1e9);
        ArrayNode marks = json.putArray("marks");
        review.marks().forEach(mark -> mark(marks.addObject(), mark));
        return json;
    }

    private static void mark(ObjectNode json, MetricMark mark) {
        json.put("id", mark.id())
                .put("kind", mark.kind().name().toLowerCase(Locale.ROOT))
                .put("fromS", mark.fromNs() / 1e9)
                .put("toS", mark.toNs() / 1e9)
                .put("fromN", mark.fromN())
                .put("toN", mark.toN());
    }

    /** Returns the samples: times as whole nanoseconds after the first, forces with the digits of a 32-bit float. */
    static String samples(Window window) {
        int n = window.size();
        long t0Ns = window.timeNs(0);
        StringBuilder times = new StringBuilder(12 * n);
        StringBuilder forces = new StringBuilder(12 * n);
        StringBuilder gaps = new StringBuilder();
        for (int i = 0; i < n; i++) {
            append(times, Long.toString(window.timeNs(i) - t0Ns));
            append(forces, Float.toString((float) window.forceN(i)));
            if (i > 0 && window.gapBefore(i)) {
                append(gaps, Integer.toString(i));
            }
        }
        return "{\"t0Ns\":" + t0Ns + ",\"timeNs\":[" + times + "],\"forceN\":[" + forces + "],\"gapBefore\":[" + gaps
                + "]}";
    }

    private static void append(StringBuilder list, String item) {
        if (!list.isEmpty()) {
            list.append(',');
        }
        list.append(item);
    }
}
