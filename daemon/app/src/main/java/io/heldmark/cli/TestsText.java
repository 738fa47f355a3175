package io.heldmark.cli;

import io.heldmark.metric.AngleTorqueProfile;
import io.heldmark.metric.TestBook;
import io.heldmark.metric.TestResult;
import io.heldmark.model.MetricValue;
import io.heldmark.pipeline.ConditionFields;
import java.io.PrintWriter;
import java.util.Locale;
import java.util.stream.Collectors;

/** Tests, ratios and profiles as text for people. */
final class TestsText {
    private TestsText() {}

    /** Prints what the tests of an input come to. */
    static void print(PrintWriter out, TestBook book, TestQuestions questions) {
        for (TestResult result : book.results()) {
            out.printf(
                    Locale.ROOT, "  test %s: %s of either limb%n", result.test().name(), TestBook.STATISTIC);
            result.limbs().forEach(of -> limb(out, of));
            out.printf(Locale.ROOT, "    %-23s %s%n", "asymmetry", AnalysisTable.words(result.asymmetry()));
        }
        for (TestQuestions.Ratio asked : questions.ratios()) {
            for (TestResult.OfTwo of : book.ratio(asked.agonist(), asked.antagonist())) {
                out.printf(
                        Locale.ROOT,
                        "  %s, %s: %s%n",
                        ConditionFields.word(of.limb()),
                        of.ratio().title(),
                        AnalysisTable.words(of.ratio().value()));
            }
        }
        book.profiles().forEach(of -> profile(out, of));
    }

    private static void limb(PrintWriter out, TestResult.OfLimb of) {
        String limb = ConditionFields.word(of.limb());
        String ids = of.countedIds().stream().map(String::valueOf).collect(Collectors.joining(", "));
        out.printf(
                Locale.ROOT,
                "    %s: %d trials, the mean is of contractions %s%n",
                limb,
                of.contractionIds().size(),
                ids.isEmpty() ? "none" : ids);
        figure(out, of.force());
        figure(out, of.torque().torque());
        of.set().forEach(value -> figure(out, value));
    }

    private static void figure(PrintWriter out, MetricValue value) {
        out.printf(Locale.ROOT, "    %-23s %s%n", value.id(), AnalysisTable.words(value));
    }

    private static void profile(PrintWriter out, TestResult.OfAngles of) {
        String refused = of.profile().refused();
        out.printf(
                Locale.ROOT,
                "  %s, %s: torque over the joint angle%s%n",
                ConditionFields.word(of.limb()),
                of.muscle(),
                refused == null ? "" : " not computed: " + refused);
        for (AngleTorqueProfile.Point point : of.profile().points()) {
            out.printf(Locale.ROOT, "    %6.1f° %s%n", point.angleDeg(), AnalysisTable.words(point.torque()));
        }
    }
}
