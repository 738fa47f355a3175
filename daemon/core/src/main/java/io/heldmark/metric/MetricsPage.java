package io.heldmark.metric;

import io.heldmark.model.Limb;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/** Writes {@code docs/metrics.md} from {@link MetricRegistry}. */
public final class MetricsPage {
    private static final String HEAD = """
            # Metrics

            <!-- Made from io.heldmark.metric.MetricRegistry by MetricsPageTest; change it there, then run
                 mvn -q -pl daemon/core -am test -Dtest=MetricsPageTest -Dsurefire.failIfNoSpecifiedTests=false \
            -Dheldmark.regenerate=true -->

            Forces are newtons relative to the session zero. Every value carries the standard uncertainty of the
            **device** (k = 1; GUM, JCGM 100:2008) and, in events and in JSON, its budget: the parts and their shares.
            The repeat error of people is another thing, about ten times larger, and never in these figures.

            Windows are lengths of time, not numbers of samples. A metric that cannot be computed is absent and
            says why; nothing is filled in over missing samples.

            No metric uses a filter but the one that its row names: forces, rates, impulses and times come from the
            samples as they were taken. The resting level, the mean of the 200 ms before the onset, is the base of
            force at a time, rate of force development and impulse; it is never subtracted from peak or mean.

            What the trace cannot tell comes from the test plan or the user (`TestConditions`): cue, fixation, own
            maximum, target, lever arm, body mass, gravity, whether it was a lowering. What needs it and is not told
            is not computed, with that reason. It is said in the viewer (key I, and T for a force to hold), by
            `PUT /api/v1/trials` ([live protocol](live-protocol.md)) or to `heldmark analyse`, whose word goes first; a
            trial has what had been said when it began, and a recording keeps it.

            **Rates of force development** are refused, with the reason, unless

            - the cue is explosive; the fixation rigid, never hand-held, a strap only once its stiffness was checked and
              it is declared rigid; the peak at least 0.8 of the person's own maximum; and the converter's bandwidth
              known;
            - the 200 ms before the onset were seen whole and were steady, without tension or a dip; the onset is known
              to 5 ms (standard uncertainty);
            - the force rose by at least 200 N/s over the first 100 ms, and somewhere by 1.4 of its peak per second;
            - there are at least 1,000 samples/s for spans up to 100 ms and 500 beyond, and the contraction lasts as
              long as the span.

            Without a plan nothing is known of cue and fixation. Rates are then computed where the trace qualifies by
            itself; what was said still refuses; the contraction carries `conditions-unknown`. Who says that the cue was
            explosive vouches for the test: nothing is passed over any more, and one reason names all that is still to
            be said. The bandwidth comes from the device's description; where that says none, from `--bandwidth-hz` of
            `heldmark analyse` or from `bandwidth` in the address of the link.

            ## Of one contraction

            """;

    private MetricsPage() {}

    /** Returns the page as Markdown. */
    public static String markdown() {
        StringBuilder out = new StringBuilder(HEAD);
        for (Metric metric : MetricRegistry.standard().metrics()) {
            append(out, metric.id(), metric.unit(), metric.describe());
        }
        out.append("## Of a set of contractions\n\n");
        for (SetMetric metric : MetricRegistry.sets()) {
            append(out, metric.id(), metric.unit(), metric.describe());
        }
        out.append("## Of both limbs\n\n");
        for (PairMetric metric : MetricRegistry.pairs()) {
            append(out, metric.id(), metric.unit(), metric.describe());
        }
        published(out);
        out.append(SetsText.MARKDOWN);
        out.append(UncertaintyText.markdown());
        return out.toString().stripTrailing() + "\n";
    }

    private static void published(StringBuilder out) {
        out.append("""
                ### Published formulas of asymmetry, by name

                For comparison with papers that use them; the reference limb is always said beside the value. Left 412 N and
                right 368 N, right the reference where one is chosen:

                | name | formula | reference limb | example | source |
                |---|---|---|---|---|
                """);
        for (AsymmetryFormula f : AsymmetryFormula.values()) {
            String reference = f.reference().name().toLowerCase(Locale.ROOT);
            String example = String.format(Locale.ROOT, "%.3f %%", f.of(412, 368, Limb.RIGHT));
            out.append(String.join(" | ", "| `" + f.id() + "`", f.formula(), reference, example, f.source() + " |\n"));
        }
        out.append("\n");
    }

    private static void append(StringBuilder out, String id, String unit, Metric.Description d) {
        List<String> rows = new ArrayList<>();
        rows.add("| unit | " + unit + " |");
        rows.add("| definition | " + d.formula() + " |");
        rows.add("| not computed | " + d.notComputed() + " |");
        rows.add("| uncertainty | " + d.uncertainty() + " |");
        rows.add("| source | " + d.source() + " |");
        out.append("### `").append(id).append("`: ").append(d.title()).append("\n\n| | |\n|---|---|\n");
        out.append(String.join("\n", rows)).append("\n\n");
    }
}
