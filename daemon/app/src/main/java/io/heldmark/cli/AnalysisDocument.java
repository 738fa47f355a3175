package io.heldmark.cli;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Contraction;
import io.heldmark.model.ContractionFlag;
import io.heldmark.model.Effort;
import io.heldmark.model.MetricValue;
import io.heldmark.model.Quantity;
import io.heldmark.model.SymmetryThrough;
import io.heldmark.model.UncertaintyBudget;
import io.heldmark.pipeline.AnalysisStart;
import io.heldmark.pipeline.ConditionsJson;
import java.io.IOException;
import java.io.PrintWriter;
import java.util.List;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/**
 * The analysis of one input as one line of JSON, {@code heldmark.analysis/1}; the schema is {@code
 * docs/analysis.schema.json}. What is not known is absent, {@code null} is never written.
 */
final class AnalysisDocument extends AnalysisReport {
    static final String SCHEMA = "heldmark.analysis/1";
    static final String ONSET_NOT_KNOWN = "no quiet rest of 200 ms lies before the contraction";

    private final String input;

    AnalysisDocument(String input, AnalysisStart none, TestQuestions questions) {
        super(",", none, questions);
        this.input = input;
    }

    @Override
    String gap(long lastNs, long nextNs) {
        return JsonLines.object()
                .put("startS", seconds(lastNs))
                .put("durationS", (nextNs - lastNs) / 1e9)
                .toString();
    }

    @Override
    String contraction(Contraction c, @Nullable Contraction found, ChannelTally channel) {
        ObjectNode o = JsonLines.object()
                .put("id", c.id())
                .put("revision", c.revision().name().toLowerCase(Locale.ROOT))
                .put("channel", channel.name())
                .put("limb", c.limb().name().toLowerCase(Locale.ROOT));
        if (c.flags().contains(ContractionFlag.NO_BASELINE.id())) {
            o.put("windowStartS", seconds(c.onsetNs()));
            o.putObject("notComputed").put("onsetS", ONSET_NOT_KNOWN);
        } else {
            o.put("onsetS", seconds(c.onsetNs()));
            number(o, "onsetStandardUncertaintyS", c.onsetStandardUncertaintyNs() / 1e9);
        }
        ending(o, c);
        if (found != null) {
            ObjectNode automatic = o.putObject("automatic").put("onsetS", seconds(found.onsetNs()));
            number(automatic, "onsetStandardUncertaintyS", found.onsetStandardUncertaintyNs() / 1e9);
            ending(automatic, found);
        }
        number(o, "restingLevelN", c.restingLevelN());
        ArrayNode flags = o.putArray("flags");
        c.flags().forEach(flags::add);
        for (String flag : c.flags()) {
            String text = ContractionFlag.textOf(flag, c);
            if (!text.equals(ContractionFlag.textOf(flag))) {
                o.withObjectProperty("flagTexts").put(flag, text);
            }
        }
        ArrayNode metrics = o.putArray("metrics");
        c.metrics().forEach(metric -> metric(metrics.addObject(), metric));
        return o.toString();
    }

    @Override
    String effort(Effort e, List<EffortFormulas.Value> published) {
        ObjectNode o = JsonLines.object()
                .put("id", e.id())
                .put("leftContractionId", e.leftContractionId())
                .put("rightContractionId", e.rightContractionId())
                .put("onsetLagS", e.onsetLagNs() / 1e9);
        number(o, "onsetLagStandardUncertaintyS", e.onsetLagStandardUncertaintyNs() / 1e9);
        metric(o.putObject("asymmetry"), e.asymmetry());
        SymmetryThrough through = e.symmetry();
        if (through != null) {
            symmetry(o.putObject("symmetry"), through);
        }
        if (!published.isEmpty()) {
            ArrayNode others = o.putArray("otherAsymmetries");
            published.forEach(value ->
                    metric(others.addObject().put("formula", value.metric().formula()), value.value()));
        }
        ArrayNode flags = o.putArray("flags");
        e.flags().forEach(flags::add);
        return o.toString();
    }

    private void ending(ObjectNode o, Contraction c) {
        o.put("releaseStartS", seconds(c.releaseStartNs()));
        number(o, "releaseStartStandardUncertaintyS", c.releaseStartStandardUncertaintyNs() / 1e9);
        o.put("offsetS", seconds(c.offsetNs()));
        number(o, "offsetStandardUncertaintyS", c.offsetStandardUncertaintyNs() / 1e9);
    }

    private void symmetry(ObjectNode o, SymmetryThrough through) {
        ArrayNode parts = o.putArray("parts");
        for (SymmetryThrough.Part part : through.parts()) {
            ObjectNode p =
                    parts.addObject().put("startS", seconds(part.fromNs())).put("endS", seconds(part.toNs()));
            metric(p.putObject("asymmetry"), part.asymmetry());
        }
        if (through.notComputed() != null) {
            o.put("notComputed", through.notComputed());
        }
    }

    static void metric(ObjectNode o, MetricValue value) {
        o.put("id", value.id());
        Quantity q = value.quantity();
        if (q != null) {
            o.put("value", q.value())
                    .put("standardUncertainty", q.standardUncertainty())
                    .put("unit", q.unit());
            UncertaintyBudget budget = value.budget();
            if (budget != null) {
                ArrayNode terms = o.putArray("budget");
                budget.terms()
                        .forEach(term -> terms.addObject()
                                .put("term", term.source().id())
                                .put("standardUncertainty", term.standardUncertainty())
                                .put("share", budget.share(term)));
            }
        } else {
            o.put("notComputed", value.notComputed());
        }
    }

    static void number(ObjectNode o, String name, double value) {
        if (Double.isFinite(value)) {
            o.put(name, value);
        }
    }

    @Override
    void print(PrintWriter out) throws IOException {
        String head = head().toString();
        out.append(head, 0, head.length() - 1).append(",\"channels\":[");
        String separator = "";
        for (ChannelTally channel : channels()) {
            String text = channel(channel).toString();
            out.append(separator).append(text, 0, text.length() - 1).append(",\"gaps\":[");
            channel.gaps().copyTo(out);
            out.append("]}");
            separator = ",";
        }
        out.append("],\"contractions\":[");
        contractions().copyTo(out);
        out.append("],\"efforts\":[");
        efforts().copyTo(out);
        out.append("]");
        ObjectNode tests = JsonLines.object();
        TestsDocument.add(tests, book(), questions());
        if (!tests.isEmpty()) {
            String text = tests.toString();
            out.append(",").append(text, 1, text.length() - 1);
        }
        out.append("}\n");
    }

    private ObjectNode head() throws JsonProcessingException {
        ObjectNode o = JsonLines.object()
                .put("schema", SCHEMA)
                .put("input", input)
                .put("kind", start().kind())
                .put("stationVersion", Version.text())
                .put("zero", start().zero())
                .put("complete", complete())
                .put("invented", start().invented());
        ArrayNode notes = o.putArray("notes");
        notes().forEach(notes::add);
        o.put("settingsSha256", start().settings().resultHash());
        o.set("settings", JsonLines.MAPPER.readTree(start().settings().effectiveJson()));
        ConditionsJson.put(o.putObject("conditions"), questions().base());
        if (!said().isEmpty()) {
            ArrayNode said = o.putArray("saidInSession");
            said().forEach(entry -> said.add(entry.json(seconds(entry.fromNs()))));
        }
        return o;
    }

    private static ObjectNode channel(ChannelTally tally) {
        ChannelInfo info = tally.info();
        ObjectNode o = JsonLines.object()
                .put("name", tally.name())
                .put("limb", info.limb().name().toLowerCase(Locale.ROOT))
                .put("unit", info.unit())
                .put("sampleRateHz", info.sampleRateHz())
                .put("samples", tally.samples())
                .put("calibration", info.calibration());
        number(o, "calibrationRelativeU", info.calibrationRelativeU());
        number(o, "calibratedToN", info.cell().calibratedToN() > 0 ? info.cell().calibratedToN() : Double.NaN);
        if (info.resolution() > 0) {
            o.put("resolution", info.resolution());
        }
        return o;
    }
}
