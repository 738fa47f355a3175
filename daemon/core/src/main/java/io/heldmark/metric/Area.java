package io.heldmark.metric;

import io.heldmark.model.UncertaintyBudget;

/**
 * Area under the force above the resting level between two times of a window.
 *
 * <p><b>Formula.</b> Trapezoids between samples, and at both ends as far as the boundary, where the force is drawn straight
 * between its neighbours.
 *
 * <p><b>Uncertainty.</b> {@link DeviceUncertainty#integral}, with the boundaries' part given by the caller, who knows whether
 * they move together.
 *
 * <p><b>Source.</b> Trapezoidal rule; its error for a curve of second derivative F'' over a length T is T dt^2 F'' / 12.
 *
 * @param impulseNs the area, in newton seconds.
 * @param lengthS its length.
 * @param fromN height above the resting level at its beginning.
 * @param toN height at its end.
 * @param highestN highest force, relative to the session zero.
 */
record Area(double impulseNs, double lengthS, double fromN, double toN, double highestN) {
    /** Computes it; the times must lie within the window's samples, the first before the second. */
    static Area between(Trace t, long fromNs, long toNs) {
        int first = t.after(fromNs);
        int end = t.after(toNs + 1);
        double restN = t.restingLevelN();
        double fromN = t.forceAt(fromNs) - restN;
        double toN = Samples.forceAt(t, end, toNs) - restN;
        double highest = Math.max(fromN, toN);
        double sum = 0;
        long previousNs = fromNs;
        double previousN = fromN;
        for (int i = first; i < end; i++) {
            double heightN = t.forceN(i) - restN;
            sum += (t.timeNs(i) - previousNs) * (heightN + previousN) / 2;
            previousNs = t.timeNs(i);
            previousN = heightN;
            highest = heightN > highest ? heightN : highest; // Math.max takes longer, and this loop waits for it.
        }
        sum += (toNs - previousNs) * (toN + previousN) / 2;
        return new Area(sum * 1e-9, (toNs - fromNs) * 1e-9, fromN, toN, highest + restN);
    }

    /** Returns its budget; timingU is what the boundaries contribute, in newton seconds. */
    UncertaintyBudget budget(Trace t, double timingU) {
        double samples = lengthS / (t.periodNs() * 1e-9);
        return t.uncertainty().integral(impulseNs, lengthS, samples, t.rest(), highestN, timingU);
    }
}
