package io.heldmark.model;

/** What the plan or the user says of trials, by when they were made: one recording may hold several tests. */
@FunctionalInterface
public interface TrialConditions {
    /**
     * Returns what is said of the trial that began at a time.
     *
     * @param onsetNs onset of the contraction, in nanoseconds.
     */
    TestConditions at(long onsetNs);

    /** Returns conditions that hold for every trial. */
    static TrialConditions always(TestConditions conditions) {
        return onsetNs -> conditions;
    }
}
