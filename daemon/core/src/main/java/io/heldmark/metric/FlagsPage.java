package io.heldmark.metric;

import io.heldmark.model.ContractionFlag;
import io.heldmark.model.EffortFlag;

/** Writes {@code docs/quality-flags.md} from {@link ContractionFlag} and {@link EffortFlag}, rules from {@link QualityChecks}. */
public final class FlagsPage {
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
        return out.toString();
    }

    private static void row(StringBuilder out, String id, String text) {
        out.append("| `").append(id).append("` | ").append(text).append(" |\n");
    }
}
