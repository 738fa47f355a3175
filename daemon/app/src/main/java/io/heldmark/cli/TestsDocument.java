package io.heldmark.cli;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.metric.AngleTorqueProfile;
import io.heldmark.metric.StatedTest;
import io.heldmark.metric.TestBook;
import io.heldmark.metric.TestResult;
import io.heldmark.pipeline.ConditionFields;
import io.heldmark.pipeline.ConditionsJson;
import java.util.List;

/** Tests, ratios and profiles as JSON, by {@code docs/analysis.schema.json}. */
final class TestsDocument {
    private TestsDocument() {}

    /** Adds the sections of an input for which tests were said; nothing where none were. */
    static void add(ObjectNode document, TestBook book, TestQuestions questions) {
        if (questions.tests().isEmpty() && questions.imported().isEmpty()) {
            return;
        }
        ArrayNode tests = document.putArray("tests");
        book.results().forEach(result -> test(tests.addObject(), result));
        ArrayNode ratios = document.putArray("ratios");
        for (TestQuestions.Ratio asked : questions.ratios()) {
            book.ratio(asked.agonist(), asked.antagonist()).forEach(of -> ratio(ratios.addObject(), of));
        }
        ArrayNode profiles = document.putArray("profiles");
        book.profiles().forEach(of -> profile(profiles.addObject(), of));
    }

    private static void test(ObjectNode o, TestResult result) {
        StatedTest test = result.test();
        o.put("test", test.name());
        o.put("mode", ConditionFields.word(test.mode()));
        o.put("statistic", TestBook.STATISTIC);
        ConditionsJson.put(o.putObject("conditions"), test.conditions());
        ArrayNode limbs = o.putArray("limbs");
        result.limbs().forEach(of -> limb(limbs.addObject(), of));
        AnalysisDocument.metric(o.putObject("asymmetry"), result.asymmetry());
    }

    private static void limb(ObjectNode o, TestResult.OfLimb of) {
        o.put("limb", ConditionFields.word(of.limb()));
        numbers(o.putArray("contractionIds"), of.contractionIds());
        numbers(o.putArray("countedIds"), of.countedIds());
        ArrayNode metrics = o.putArray("metrics");
        AnalysisDocument.metric(metrics.addObject(), of.force());
        AnalysisDocument.metric(metrics.addObject(), of.torque().torque());
        of.set().forEach(value -> AnalysisDocument.metric(metrics.addObject(), value));
    }

    private static void numbers(ArrayNode array, List<Long> ids) {
        ids.forEach(array::add);
    }

    private static void ratio(ObjectNode o, TestResult.OfTwo of) {
        o.put("limb", ConditionFields.word(of.limb()))
                .put("agonist", of.agonist())
                .put("antagonist", of.antagonist())
                .put("title", of.ratio().title());
        AnalysisDocument.metric(o.putObject("ratio"), of.ratio().value());
    }

    private static void profile(ObjectNode o, TestResult.OfAngles of) {
        o.put("limb", ConditionFields.word(of.limb())).put("muscle", of.muscle());
        ArrayNode points = o.putArray("points");
        for (AngleTorqueProfile.Point point : of.profile().points()) {
            ObjectNode p = points.addObject().put("angleDeg", point.angleDeg());
            AnalysisDocument.metric(p.putObject("torque"), point.torque());
        }
        if (of.profile().refused() != null) {
            o.put("notComputed", of.profile().refused());
        }
    }
}
