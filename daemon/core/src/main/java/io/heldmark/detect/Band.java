package io.heldmark.detect;

import io.heldmark.model.SampleBatch;

/** Forces between which samples tell nothing new, both ends outside. Newtons relative to the session zero. */
final class Band {
    /** More than running sums are ever off, as a share. */
    private static final double ROUNDING = 1e-6;

    private double leastN;
    private double mostN;

    /** Sets both ends; each moves in by more than rounding can ever move a mean of forces between them. */
    void set(double newLeastN, double newMostN) {
        leastN = newLeastN + ROUNDING * (1 + Math.abs(newLeastN));
        mostN = newMostN - ROUNDING * (1 + Math.abs(newMostN));
    }

    /** Tells whether all forces of a batch lie within; never for one that is not a number. */
    boolean holds(SampleBatch batch) {
        double least = leastN;
        double most = mostN;
        double[] forceN = batch.forceN;
        for (int i = 0; i < batch.count; i++) {
            double f = forceN[i];
            if (!(f > least && f < most)) {
                return false;
            }
        }
        return true;
    }

    /** Tells whether a force lies within. */
    boolean holds(double forceN) {
        return forceN > leastN && forceN < mostN;
    }

    /** Tells whether the newest forces of a ring lie within. */
    boolean holdsNewest(TraceBuffer raw, int count) {
        return raw.within(raw.end() - count, raw.end(), leastN, mostN);
    }
}
