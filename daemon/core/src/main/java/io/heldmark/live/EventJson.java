package io.heldmark.live;

import io.heldmark.model.CentreOfPressure;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Contraction;
import io.heldmark.model.ContractionFlag;
import io.heldmark.model.Effort;
import io.heldmark.model.EffortFlag;
import io.heldmark.model.Level;
import io.heldmark.model.Limb;
import io.heldmark.model.LinkHealth;
import io.heldmark.model.Quantity;
import io.heldmark.model.RecordingState;
import io.heldmark.model.ReplayState;
import io.heldmark.model.TapState;
import io.heldmark.model.Target;
import io.heldmark.model.TraceFilter;
import io.heldmark.model.ZeroState;
import java.util.List;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/** The events of {@code docs/live-protocol.md} as JSON; equal events give equal text. */
public final class EventJson {
    /** The asymmetry's formula, in words. */
    static final String ASYMMETRY_FORMULA = "100 times the natural logarithm of left peak force over right peak force";

    private EventJson() {}

    /** Returns {@code channels}. */
    public static String channels(List<ChannelInfo> channels, List<TraceFilter> filters) {
        return JsonOut.event("channels")
                .array("channels", channels, (o, c) -> channel(o, c, filters.get(channels.indexOf(c))))
                .end();
    }

    private static void channel(JsonOut o, ChannelInfo c, TraceFilter filter) {
        o.whole("channel", c.channel())
                .text("link", c.link())
                .text("deviceId", c.deviceId())
                .whole("deviceChannel", c.deviceChannel())
                .text("name", c.name())
                .text("limb", word(c.limb()))
                .number("sampleRateHz", c.sampleRateHz())
                .positive("bandwidthHz", c.bandwidthHz())
                .positive("ratedLoadN", c.ratedLoadN())
                .text("unit", c.unit())
                .text("calibration", c.calibration())
                .number("calibrationRelativeU", c.calibrationRelativeU())
                .positive("calibratedToN", c.cell().calibratedToN())
                .number("driftLimitNPerHour", c.cell().driftLimitNPerHour())
                .text("reference", c.cell().reference())
                .positive("resolution", c.resolution())
                .number("traceDelayS", filter.delayS())
                .text("traceFilter", filter.description());
    }

    /** Returns what the channels read. */
    public static String levels(List<Level> levels) {
        return JsonOut.event("level")
                .array(
                        "channels",
                        levels,
                        (o, l) -> centre(
                                o.whole("channel", l.channel())
                                        .quantity("forceN", l.force())
                                        .text("state", l.state()),
                                l.centre()))
                .end();
    }

    private static JsonOut centre(JsonOut o, @Nullable CentreOfPressure centre) {
        return centre == null
                ? o
                : o.quantity("centreX", centre.x())
                        .quantity("centreY", centre.y())
                        .text("centreNotMeasured", centre.notMeasured());
    }

    /** Returns {@code contraction}. */
    public static String contraction(Contraction c) {
        JsonOut o = JsonOut.event("contraction")
                .whole("id", c.id())
                .text("revision", c.revision().name().toLowerCase(Locale.ROOT))
                .whole("channel", c.channel())
                .text("limb", word(c.limb()))
                .seconds("onsetS", c.onsetNs())
                .seconds("onsetStandardUncertaintyS", c.onsetStandardUncertaintyNs());
        if (c.releaseStartNs() != 0) {
            o.seconds("releaseStartS", c.releaseStartNs())
                    .seconds("releaseStartStandardUncertaintyS", c.releaseStartStandardUncertaintyNs());
        }
        if (c.offsetNs() != 0) {
            o.seconds("offsetS", c.offsetNs()).seconds("offsetStandardUncertaintyS", c.offsetStandardUncertaintyNs());
        }
        return o.number("restingLevelN", c.restingLevelN())
                .array("flags", c.flags(), (f, id) -> f.text("id", id).text("text", ContractionFlag.textOf(id, c)))
                .array("metrics", c.metrics(), JsonOut::metricFields)
                .end();
    }

    /** Returns {@code effort}. */
    public static String effort(Effort e) {
        return JsonOut.event("effort")
                .whole("id", e.id())
                .whole("leftContractionId", e.leftContractionId())
                .whole("rightContractionId", e.rightContractionId())
                .seconds("onsetLagS", e.onsetLagNs())
                .seconds("onsetLagStandardUncertaintyS", e.onsetLagStandardUncertaintyNs())
                .seconds("clocksStandardUncertaintyS", e.clocksStandardUncertaintyNs())
                .object("asymmetry", o -> o.metricFields(e.asymmetry()))
                .text("formula", ASYMMETRY_FORMULA)
                .array("flags", e.flags(), (f, id) -> f.text("id", id).text("text", EffortFlag.textOf(id)))
                .end();
    }

    /** Returns {@code link}. */
    public static String link(LinkHealth h) {
        JsonOut o = JsonOut.event("link")
                .text("link", h.link())
                .text("state", h.state())
                .text("reason", h.reason())
                .number("sampleRateHz", h.sampleRateHz())
                .positive("nominalRateHz", h.nominalRateHz())
                .seconds("arrivalJitterS", h.arrivalJitterNs())
                .seconds("timeStandardUncertaintyS", h.timeStandardUncertaintyNs())
                .number("clockSkewPpm", h.clockSkewPpm())
                .whole("samples", h.samples())
                .whole("lostSamples", h.lostSamples())
                .whole("skippedBytes", h.skippedBytes())
                .whole("crcFailures", h.crcFailures())
                .whole("duplicates", h.duplicates())
                .whole("reordered", h.reordered())
                .whole("putBack", h.putBack())
                .whole("reconnects", h.reconnects())
                .whole("clockRestarts", h.clockRestarts());
        if (h.batteryPercent() >= 0) {
            o.whole("batteryPercent", h.batteryPercent());
        }
        return o.number("temperatureC", h.temperatureC()).end();
    }

    /** Returns {@code zero}; the unit is that of the channel. */
    public static String zero(ZeroState z, String unit) {
        JsonOut o = JsonOut.event("zero")
                .whole("channel", z.channel())
                .text("state", z.state())
                .seconds("atS", z.atNs());
        if (z.state().equals("taken")) {
            o.quantity("zero", new Quantity(z.zeroN(), z.standardUncertaintyN(), unit));
        }
        return o.text("reason", z.reason()).end();
    }

    /** Returns {@code recording}. */
    public static String recording(RecordingState r) {
        JsonOut o = JsonOut.event("recording").text("state", r.state()).text("file", r.file());
        if (!r.state().equals("off")) {
            o.whole("bytes", r.bytes()).seconds("sinceS", r.sinceNs()).flag("complete", r.complete());
        }
        return o.text("reason", r.reason()).end();
    }

    /** Returns {@code target}. */
    public static String target(@Nullable Target t) {
        JsonOut o = JsonOut.event("target");
        if (t != null) {
            o.number("forceN", t.forceN()).number("tolerancePercent", t.tolerancePercent());
        }
        return o.end();
    }

    /** Returns {@code tap}. */
    public static String tap(TapState t) {
        JsonOut o = JsonOut.event("tap").text("state", t.state().name().toLowerCase(Locale.ROOT));
        if (t.leftChannel() >= 0) {
            o.whole("leftChannel", t.leftChannel()).whole("rightChannel", t.rightChannel());
        }
        o.text("reason", t.reason());
        if (t.count() == 0) {
            return o.end();
        }
        return o.whole("count", t.count())
                .quantity("offset", new Quantity(1e-9 * t.offsetNs(), 1e-9 * t.offsetStandardUncertaintyNs(), "s"))
                .seconds("standardDeviationS", t.standardDeviationNs())
                .seconds("clocksStandardUncertaintyS", t.clocksStandardUncertaintyNs())
                .seconds("untiedStandardUncertaintyS", t.untiedStandardUncertaintyNs())
                .end();
    }

    /** Returns {@code mark}. */
    public static String mark(String text, long atNs) {
        return JsonOut.event("mark").seconds("atS", atNs).text("text", text).end();
    }

    /** Returns {@code replay}. */
    public static String replay(ReplayState r) {
        return JsonOut.event("replay")
                .text("file", r.file())
                .seconds("positionS", r.positionNs())
                .seconds("durationS", r.durationNs())
                .number("speed", r.speed())
                .flag("paused", r.paused())
                .flag("ended", r.ended())
                .end();
    }

    /** Returns {@code notice}. */
    public static String notice(String severity, String text) {
        return JsonOut.event("notice")
                .text("severity", severity)
                .text("text", text)
                .end();
    }

    static String viewer(boolean reduced, String reason) {
        return JsonOut.event("viewer")
                .text("delivery", reduced ? "reduced" : "full")
                .text("reason", reason)
                .end();
    }

    static String latency(LatencySummary decoded, LatencySummary sent, LatencySummary painted) {
        JsonOut o = JsonOut.event("latency");
        latency(o, "arrivalToDecodedMs", decoded);
        latency(o, "arrivalToSentMs", sent);
        latency(o, "arrivalToPaintedMs", painted);
        return o.end();
    }

    private static void latency(JsonOut out, String name, LatencySummary s) {
        if (s.count() > 0) {
            out.object(
                    name,
                    o -> o.whole("count", s.count())
                            .number("p50", s.p50Ns() / 1e6)
                            .number("p95", s.p95Ns() / 1e6)
                            .number("p99", s.p99Ns() / 1e6)
                            .number("max", s.maxNs() / 1e6));
        }
    }

    private static String word(Limb limb) {
        return limb.name().toLowerCase(Locale.ROOT);
    }
}
