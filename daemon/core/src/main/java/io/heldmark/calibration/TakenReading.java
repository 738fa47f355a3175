package io.heldmark.calibration;

/**
 * What was taken at a step of a guided calibration.
 *
 * @param meanCounts mean of the cell's counts; 0 for a step that is only confirmed.
 * @param sdCounts their standard deviation.
 * @param samples how many; 0 for a step that is only confirmed.
 * @param seconds how long the stretch was.
 * @param applied the load that a reference cell showed, in the unit of the plan; the planned one for masses.
 * @param moving whether it was taken although the cell was not still.
 * @param at when, in words of the clock on the wall.
 */
public record TakenReading(
        double meanCounts, double sdCounts, int samples, double seconds, double applied, boolean moving, String at) {
    /** Rejects what is not a number. */
    public TakenReading {
        if (!(Math.abs(meanCounts) <= 1e12 && Math.abs(applied) <= 1e9 && sdCounts >= 0 && samples >= 0)) {
            throw new IllegalArgumentException("no reading: meanCounts=" + meanCounts + ", applied=" + applied);
        }
    }

    /** Returns that a step was done which has no reading. */
    public static TakenReading confirmed(String at) {
        return new TakenReading(0, 0, 0, 0, 0, false, at);
    }
}
