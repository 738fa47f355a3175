package io.heldmark.metric;

import io.heldmark.model.ContractionFlag;
import io.heldmark.model.EffortFlag;

/** Writes {@code docs/quality-flags.md} from {@link ContractionFlag} and {@link EffortFlag}, rules from {@link QualityChecks}. */
public final class FlagsPage {
    private static final String EVIDENCE = """

            ## How often

            On the bundled scenarios of invented people, each with two seeds of its own: 330 sound efforts, and those that the
            simulator made unsound on purpose. `mvn -q -pl daemon/core -am test -Dtest=QualityEvidenceTest
            -Dsurefire.failIfNoSpecifiedTests=false` prints the figures and fails where a flag, facts of the set-up left
            aside, is raised on more than 5 % of the sound ones.

            | efforts | n | flags raised, per cent of them |
            |---|---|---|
            | sound, all | 330 | `trial-spread` 0.3; facts: `conditions-unknown` 64, `onset-uncertain` 9, `slow-rise` 8.5 (nearly all of the last two on slow ramps) |
            | with pre-tension | 16 | `pre-tension` 100, `resting-level-off-zero` 81 |
            | with a countermovement | 16 | `countermovement` 100 |
            | two efforts in one | 12 | `double-effort` 100 |
            | let go early | 12 | none without a plan that says how long to hold |
            | lowering with a break and a catch | 24 | `jerk` 50, `no-plateau` 42, where nobody said that it was a lowering |
            | the same, declared as lowerings | 24 | `catch-spike` 96, neither `jerk` nor `double-effort` |
            | the same without a catch, declared | 24 | none of these |

            The last two rows, and catches that come within the release (87 % of those that lift the force by 20 N) or hard and late
            (100 %), are `CatchSpikeTest`'s. Not seen are an impact that makes a shoulder of a steep release and no rise of it, and one
            that parts the lowering from what follows (`not-back-to-rest`).
            """;

    private FlagsPage() {}

    /** Returns the page as Markdown. */
    public static String markdown() {
        StringBuilder out = new StringBuilder("""
                # Quality flags

                <!-- Made from io.heldmark.model.ContractionFlag and EffortFlag by FlagsPageTest; change them there, then run
                     mvn -q -pl daemon/core -am test -Dtest=FlagsPageTest -Dsurefire.failIfNoSpecifiedTests=false \
                -Dheldmark.regenerate=true -->

                A flag says in plain words what a reader must know of a contraction. It never changes a number and never
                rejects a trial by itself: the tester decides. Events and JSON carry the word, and the sentence beside it.

                ## Of one contraction

                What the detector notices while it finds the boundaries is described in [detection](detection.md); the
                others have their rule here.

                | flag | what it says | rule |
                |---|---|---|
                """);
        for (ContractionFlag flag : ContractionFlag.values()) {
            out.append("| `")
                    .append(flag.id())
                    .append("` | ")
                    .append(flag.text())
                    .append(" | ");
            out.append(QualityChecks.rule(flag)).append(" |\n");
        }
        out.append("\n## Of an effort of both limbs\n\n| flag | what it says |\n|---|---|\n");
        for (EffortFlag flag : EffortFlag.values()) {
            row(out, flag.id(), flag.text());
        }
        return out.append(EVIDENCE).toString();
    }

    private static void row(StringBuilder out, String id, String text) {
        out.append("| `").append(id).append("` | ").append(text).append(" |\n");
    }
}
