package io.heldmark.metric;

import io.heldmark.model.Limb;
import io.heldmark.model.MetricValue;
import java.util.List;

/**
 * What the trials of one test come to.
 *
 * @param test the test.
 * @param limbs the limbs that have trials: left, right, then trials of no limb.
 * @param asymmetry {@link SetAsymmetry} of the set, or why there is none.
 */
public record TestResult(StatedTest test, List<OfLimb> limbs, MetricValue asymmetry) {
    /** Copies the list. */
    public TestResult {
        limbs = List.copyOf(limbs);
    }

    /**
     * One limb's trials of the test.
     *
     * @param limb the limb.
     * @param contractionIds all of them, in order.
     * @param countedIds those that the means are of.
     * @param force mean of their peak forces, {@code force.peak.mean}.
     * @param torque mean of their peak torques, {@code torque.peak.mean}, with what must be known of it.
     * @param set figures of the whole set ({@link MetricRegistry#sets}).
     */
    public record OfLimb(
            Limb limb,
            List<Long> contractionIds,
            List<Long> countedIds,
            MetricValue force,
            JointTorque torque,
            List<MetricValue> set) {
        /** Copies the lists. */
        public OfLimb {
            contractionIds = List.copyOf(contractionIds);
            countedIds = List.copyOf(countedIds);
            set = List.copyOf(set);
        }
    }

    /**
     * A ratio of two tests.
     *
     * @param limb the limb.
     * @param agonist name of the agonist's test.
     * @param antagonist name of the antagonist's test.
     * @param ratio the ratio with its title, or why there is none.
     */
    public record OfTwo(Limb limb, String agonist, String antagonist, TorqueRatio ratio) {}

    /**
     * Torque over the joint angle of several tests.
     *
     * @param limb the limb.
     * @param muscle what worked.
     * @param profile the points, or why there are none.
     */
    public record OfAngles(Limb limb, String muscle, AngleTorqueProfile profile) {}
}
