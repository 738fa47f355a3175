package io.heldmark.metric;

import io.heldmark.metric.JointTorque.Action;
import io.heldmark.model.TestConditions;

/**
 * A test that the user says was made: the trials that began within a stretch of time, and what must be known of them before
 * their figures are put beside another test's.
 *
 * @param name the user's name of it, unique within an input.
 * @param fromNs begin of the stretch, inclusive, in nanoseconds on the input's own axis.
 * @param toNs its end, exclusive.
 * @param mode whether both limbs worked at once.
 * @param movement what was moved, and how.
 * @param conditions of its trials.
 */
public record StatedTest(String name, long fromNs, long toNs, Mode mode, Movement movement, TestConditions conditions) {
    /** Whether both limbs worked at once. */
    public enum Mode {
        /** Both at once, each against its own cell. */
        BILATERAL,
        /** One limb at a time. */
        UNILATERAL,
        /** Both press against each other through one load path. */
        ONE_LOAD_PATH,
        /** Not said. */
        UNKNOWN
    }

    /**
     * What was moved, and how.
     *
     * @param muscle what worked, for example {@code flexor}; empty where it is not said.
     * @param action how it worked.
     * @param speedDegPerS speed of the joint, 0 where it did not move; NaN where it is not said.
     * @param hipPosture posture of the hip; empty where it is not said.
     * @param arrangement the arrangement of the test; empty where it is not said.
     */
    public record Movement(String muscle, Action action, double speedDegPerS, String hipPosture, String arrangement) {
        /** Nothing is said. */
        public static final Movement UNKNOWN = new Movement("", Action.UNKNOWN, Double.NaN, "", "");
    }

    /** Returns the one test that every trial of an input belongs to. */
    public static StatedTest whole(String name, Mode mode, TestConditions conditions) {
        return new StatedTest(name, Long.MIN_VALUE, Long.MAX_VALUE, mode, Movement.UNKNOWN, conditions);
    }

    /** Tells whether a trial that began at a time belongs to it. */
    public boolean holds(long onsetNs) {
        return onsetNs >= fromNs && onsetNs < toNs;
    }
}
