package io.heldmark.cli;

import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Contraction;
import io.heldmark.model.ContractionFlag;
import io.heldmark.model.Effort;
import io.heldmark.model.EffortFlag;
import io.heldmark.model.MetricValue;
import io.heldmark.model.Quantity;
import io.heldmark.model.QuantityText;
import io.heldmark.model.SymmetryThrough;
import io.heldmark.pipeline.AnalysisStart;
import java.io.IOException;
import java.io.PrintWriter;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;

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
    String contraction(Contraction c, @Nullable Contraction found, ChannelTally channel) {
        StringBuilder text = new StringBuilder();
        boolean onsetKnown = !c.flags().contains(ContractionFlag.NO_BASELINE.id());
        text.append(String.format(
                Locale.ROOT,
                "  contraction %d, %s, %s %s, release from %s, offset %s%s%n",
                c.id(),
                channel.name(),
                onsetKnown ? "onset" : "from",
                onsetKnown
                        ? figure(new Quantity(seconds(c.onsetNs()), c.onsetStandardUncertaintyNs() / 1e9, "s"))
                        : String.format(Locale.ROOT, "%.3f s", seconds(c.onsetNs())),
                instant(c.releaseStartNs(), c.releaseStartStandardUncertaintyNs()),
                instant(c.offsetNs(), c.offsetStandardUncertaintyNs()),
                c.revision() == Contraction.Revision.MANUAL ? ", boundaries set by hand" : ""));
        if (found != null) {
            text.append(String.format(
                    Locale.ROOT,
                    "    the station had found onset %s, release from %s, offset %s%n",
                    figure(new Quantity(seconds(found.onsetNs()), found.onsetStandardUncertaintyNs() / 1e9, "s")),
                    instant(found.releaseStartNs(), found.releaseStartStandardUncertaintyNs()),
                    instant(found.offsetNs(), found.offsetStandardUncertaintyNs())));
        }
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
            text.append(String.format(Locale.ROOT, "    %s: %s%n", flag, ContractionFlag.textOf(flag, c)));
        }
        return text.toString();
    }

    private String instant(long atNs, double standardUncertaintyNs) {
        return standardUncertaintyNs > 0
                ? figure(new Quantity(seconds(atNs), standardUncertaintyNs / 1e9, "s"))
                : String.format(Locale.ROOT, "%.3f s", seconds(atNs));
    }

    @Override
    String effort(Effort e, List<EffortFormulas.Value> published) {
        String effort = String.format(
                Locale.ROOT,
                "  left %d with right %d: asymmetry %s; left onset minus right onset %s%s%n",
                e.leftContractionId(),
                e.rightContractionId(),
                words(e.asymmetry()),
                figure(new Quantity(e.onsetLagNs() / 1e6, e.onsetLagStandardUncertaintyNs() / 1e6, "ms")),
                e.flags().stream().map(flag -> "; " + EffortFlag.textOf(flag)).collect(Collectors.joining()));
        String others = published.stream()
                .map(value -> String.format(
                        Locale.ROOT,
                        "    %s: %s (%s)%n",
                        value.value().id(),
                        words(value.value()),
                        value.metric().formula()))
                .collect(Collectors.joining());
        return effort + others + through(e);
    }

    private String through(Effort e) {
        SymmetryThrough through = e.symmetry();
        if (through == null) {
            return "";
        }
        StringBuilder text = new StringBuilder();
        for (SymmetryThrough.Part part : through.parts()) {
            text.append(String.format(
                    Locale.ROOT,
                    "    asymmetry from %.2f to %.2f s: %s%n",
                    seconds(part.fromNs()),
                    seconds(part.toNs()),
                    words(part.asymmetry())));
        }
        return through.notComputed() == null
                ? text.toString()
                : String.format(
                        Locale.ROOT, "    symmetry through the effort not computed: %s%n", through.notComputed());
    }

    static String words(MetricValue metric) {
        Quantity q = metric.quantity();
        return q == null ? "not computed: " + metric.notComputed() : figure(q);
    }

    private static String figure(Quantity q) {
        // An uncertainty of 0 is one that nobody knows: the value alone then.
        String unit = q.unit().equals("1") ? "" : q.unit(); // A ratio stands alone.
        return q.standardUncertainty() > 0
                ? QuantityText.of(new Quantity(q.value(), q.standardUncertainty(), unit))
                : (q.value() + " " + unit).strip();
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
        for (SessionWords.Entry entry : said()) {
            out.printf(Locale.ROOT, "  said from %.3f s on: %s%n", seconds(entry.fromNs()), entry.words());
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
