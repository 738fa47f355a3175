package io.heldmark.cli;

import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Contraction;
import io.heldmark.model.ContractionFlag;
import io.heldmark.model.Effort;
import io.heldmark.model.EffortFlag;
import io.heldmark.model.MetricValue;
import io.heldmark.model.Quantity;
import io.heldmark.model.QuantityText;
import io.heldmark.pipeline.AnalysisStart;
import java.io.IOException;
import java.io.PrintWriter;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Collectors;

/** The analysis of one input as text for people. */
final class AnalysisTable extends AnalysisReport {
    private final String input;

    AnalysisTable(String input, AnalysisStart none, TestQuestions questions) {
        super("", none, questions);
        this.input = input;
    }

    @Override
    String gap(long lastNs, long nextNs) {
        return "";
    }

    @Override
    String contraction(Contraction c, ChannelTally channel) {
        StringBuilder text = new StringBuilder();
        boolean onsetKnown = !c.flags().contains(ContractionFlag.NO_BASELINE.id());
        text.append(String.format(
                Locale.ROOT,
                "  contraction %d, %s, %s %.3f s%s, offset %.3f s%s%n",
                c.id(),
                channel.name(),
                onsetKnown ? "onset" : "from",
                seconds(c.onsetNs()),
                onsetKnown ? String.format(Locale.ROOT, " (u %.1f ms)", c.onsetStandardUncertaintyNs() / 1e6) : "",
                seconds(c.offsetNs()),
                c.revision() == Contraction.Revision.MANUAL ? ", boundaries set by hand" : ""));
        Map<String, String> missing = new LinkedHashMap<>(); // Metrics by the reason why they are not there.
        for (MetricValue metric : c.metrics()) {
            Quantity q = metric.quantity();
            if (q != null) {
                text.append(String.format(Locale.ROOT, "    %-23s %s%n", metric.id(), figure(q)));
            } else {
                missing.merge(String.valueOf(metric.notComputed()), metric.id(), (ids, id) -> ids + ", " + id);
            }
        }
        missing.forEach((why, ids) -> text.append(String.format(Locale.ROOT, "    not computed, %s: %s%n", why, ids)));
        for (String flag : c.flags()) {
            text.append(String.format(Locale.ROOT, "    %s: %s%n", flag, ContractionFlag.textOf(flag)));
        }
        return text.toString();
    }

    @Override
    String effort(Effort e, List<EffortFormulas.Value> published) {
        String effort = String.format(
                Locale.ROOT,
                "  left %d with right %d: asymmetry %s; left onset minus right onset %.1f ms (u %.1f ms)%s%n",
                e.leftContractionId(),
                e.rightContractionId(),
                words(e.asymmetry()),
                e.onsetLagNs() / 1e6,
                e.onsetLagStandardUncertaintyNs() / 1e6,
                e.flags().stream().map(flag -> "; " + EffortFlag.textOf(flag)).collect(Collectors.joining()));
        String others = published.stream()
                .map(value -> String.format(
                        Locale.ROOT,
                        "    %s: %s (%s)%n",
                        value.value().id(),
                        words(value.value()),
                        value.metric().formula()))
                .collect(Collectors.joining());
        return effort + others;
    }

    static String words(MetricValue metric) {
        Quantity q = metric.quantity();
        return q == null ? "not computed: " + metric.notComputed() : figure(q);
    }

    private static String figure(Quantity q) {
        // An uncertainty of 0 is one that nobody knows: the value alone then.
        return q.standardUncertainty() > 0 ? QuantityText.of(q) : q.value() + " " + q.unit();
    }

    @Override
    void print(PrintWriter out) throws IOException {
        boolean session = start().zero().equals("session");
        out.printf(
                Locale.ROOT,
                "%s: forces relative to %s%s%n",
                input,
                session ? "the session zero" : "the rest before each contraction",
                start().invented() ? "; the data are invented" : "");
        for (ChannelTally channel : channels()) {
            ChannelInfo info = channel.info();
            out.printf(
                    Locale.ROOT,
                    "  channel %s: %d samples at %.6g Hz, %s%s%n",
                    channel.name(),
                    channel.samples(),
                    info.sampleRateHz(),
                    channel.gapCount() == 0
                            ? "no gap"
                            : channel.gapCount() == 1 ? "1 gap" : channel.gapCount() + " gaps",
                    info.unit().equals("N") ? "" : "; not calibrated, so that nothing is looked for");
        }
        for (String note : notes()) {
            out.printf(Locale.ROOT, "  %s%n", note);
        }
        if (contractions().isEmpty()) {
            out.printf(Locale.ROOT, "  no contraction found%n");
        }
        contractions().copyTo(out);
        efforts().copyTo(out);
        TestsText.print(out, book(), questions());
        if (!contractions().isEmpty()) {
            out.printf(
                    Locale.ROOT,
                    "  Figures in brackets are the device's standard uncertainty; how well people repeat the test is not"
                            + " in them.%n");
        }
    }
}
