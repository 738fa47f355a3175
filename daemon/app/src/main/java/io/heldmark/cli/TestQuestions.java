package io.heldmark.cli;

import io.heldmark.metric.PublishedAsymmetry;
import io.heldmark.metric.StatedTest;
import io.heldmark.metric.TestBook;
import io.heldmark.model.TestConditions;
import io.heldmark.model.TrialConditions;
import java.util.List;

/**
 * What the user says and asks of the tests in one input.
 *
 * @param base what holds of trials that belong to no test.
 * @param tests the tests.
 * @param imported torques of other devices.
 * @param ratios ratios that are asked for; both tests are there.
 * @param formulas asymmetries that are asked for beside the station's own.
 */
record TestQuestions(
        TestConditions base,
        List<StatedTest> tests,
        List<TestBook.Imported> imported,
        List<Ratio> ratios,
        List<PublishedAsymmetry> formulas) {
    /** Nothing is asked. */
    static final TestQuestions NONE =
            new TestQuestions(TestConditions.UNKNOWN, List.of(), List.of(), List.of(), List.of());

    /**
     * A ratio that is asked for.
     *
     * @param agonist name of the agonist's test.
     * @param antagonist name of the antagonist's test.
     */
    record Ratio(String agonist, String antagonist) {}

    /** Copies the lists. */
    TestQuestions {
        tests = List.copyOf(tests);
        imported = List.copyOf(imported);
        ratios = List.copyOf(ratios);
        formulas = List.copyOf(formulas);
    }

    /** Returns the conditions of a trial by its onset on the input's own axis. */
    TrialConditions conditions() {
        return onsetNs -> tests.stream()
                .filter(test -> test.holds(onsetNs))
                .findFirst()
                .map(StatedTest::conditions)
                .orElse(base);
    }
}
