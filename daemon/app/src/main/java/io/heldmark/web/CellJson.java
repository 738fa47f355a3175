package io.heldmark.web;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.cell.CellAdvice;
import io.heldmark.cell.CellReport;
import io.heldmark.cell.Distribution;
import io.heldmark.cell.Drift;
import io.heldmark.cell.HumPeak;
import io.heldmark.cell.NoiseFigures;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.LinkHealth;
import java.math.BigDecimal;
import java.math.MathContext;
import java.util.List;
import org.jspecify.annotations.Nullable;

/** The report on one cell as JSON. Counts are counts; {@code unitPerCount} turns them into the channel's unit. */
final class CellJson {
    private static final MathContext DRAWN = new MathContext(7);

    private CellJson() {}

    static ObjectNode of(CellReport report, @Nullable LinkHealth link) {
        ChannelInfo channel = report.channel();
        ObjectNode out = Json.object()
                .put("channel", channel.channel())
                .put("link", channel.link())
                .put("deviceId", channel.deviceId())
                .put("name", channel.name())
                .put("unit", channel.unit())
                .put("unitPerCount", report.unitPerCount())
                .put("sampleRateHz", channel.sampleRateHz());
        if (channel.ratedLoadN() > 0) {
            out.put("ratedLoadN", channel.ratedLoadN());
        }
        range(out.putObject("range"), report.range());
        NoiseFigures noise = report.noise();
        if (noise != null) {
            noise(out.putObject("noise"), noise);
        }
        CellReport.Spectrum spectrum = report.spectrum();
        if (spectrum != null) {
            spectrum(out.putObject("spectrum"), spectrum);
        }
        drift(out.putObject("drift"), report.drift());
        ObjectNode arrivals = out.putObject("arrivals");
        arrivals.put("messages", report.arrivals().messages());
        distribution(arrivals.putObject("intervals"), report.arrivals().intervals());
        distribution(arrivals.putObject("delays"), report.arrivals().delays());
        ArrayNode advice = out.putArray("advice");
        for (CellAdvice one : CellAdvice.of(report, link)) {
            advice.addObject().put("id", one.id()).put("text", one.text());
        }
        return out;
    }

    private static void range(ObjectNode out, CellReport.Range range) {
        out.put("samples", range.samples())
                .put("newest", range.newest())
                .put("lowest", range.lowest())
                .put("highest", range.highest())
                .put("overloaded", range.overloaded());
    }

    private static void noise(ObjectNode out, NoiseFigures noise) {
        out.put("samples", noise.samples())
                .put("meanCounts", noise.meanCounts())
                .put("rmsCounts", noise.rms())
                .put("rmsStandardUncertaintyCounts", noise.rmsStandardUncertainty())
                .put("effectiveSamples", noise.effectiveSamples())
                .put("peakToPeakCounts", noise.peakToPeak())
                .put("noiseFreeCounts", noise.noiseFreeCounts())
                .put("moved", noise.moved());
    }

    private static void spectrum(ObjectNode out, CellReport.Spectrum spectrum) {
        out.put("stepHz", spectrum.stepHz());
        drawn(out.putArray("density"), spectrum.density());
        ArrayNode hum = out.putArray("hum");
        for (HumPeak peak : spectrum.hum()) {
            hum.addObject()
                    .put("mainsHz", peak.mainsHz())
                    .put("harmonic", peak.harmonic())
                    .put("frequencyHz", peak.frequencyHz())
                    .put("rmsCounts", peak.rms());
        }
    }

    private static void drift(ObjectNode out, Drift drift) {
        out.put("seconds", drift.seconds());
        if (!Double.isNaN(drift.countsPerMinute())) {
            out.put("countsPerMinute", drift.countsPerMinute());
        }
        out.put("rangeCounts", drift.rangeCounts()).put("stepS", drift.stepS());
        drawn(out.putArray("meansCounts"), drift.means());
    }

    private static void distribution(ObjectNode out, Distribution of) {
        out.put("count", of.count())
                .put("p50Ms", of.p50Ns() * 1e-6)
                .put("p95Ms", of.p95Ns() * 1e-6)
                .put("p99Ms", of.p99Ns() * 1e-6)
                .put("maxMs", of.maxNs() * 1e-6);
        ArrayNode bins = out.putArray("bins");
        for (Distribution.Bin bin : of.bins()) {
            bins.addObject()
                    .put("fromMs", bin.fromNs() * 1e-6)
                    .put("toMs", bin.toNs() * 1e-6)
                    .put("count", bin.count());
        }
    }

    /** More digits than a screen can show only make the answer long. */
    private static void drawn(ArrayNode out, List<Double> values) {
        for (double value : values) {
            out.add(new BigDecimal(value).round(DRAWN).doubleValue());
        }
    }
}
