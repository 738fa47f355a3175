package io.heldmark.calibration;

/**
 * How readings are to be evaluated.
 *
 * @param degree 1 for a straight line, 2 for a parabola.
 * @param zeroOfEachRun whether each run's own reading at zero load is subtracted first, for cells whose zero moves between
 *     mountings; else counts are fitted as they are.
 * @param reference what the applied loads are.
 * @param ratedLoadN rated load of the cell, in newtons; NaN where nobody told.
 * @param columnsAsNamed whether the user says that loads and counts are not swapped.
 */
public record CalibrationRequest(
        int degree, boolean zeroOfEachRun, LoadReference reference, double ratedLoadN, boolean columnsAsNamed) {
    /** Rejects other degrees. */
    public CalibrationRequest {
        if (degree != 1 && degree != 2) {
            throw new IllegalArgumentException("degree is 1 or 2: degree=" + degree);
        }
    }

    /** Returns a straight line through counts as they are, loads in newtons of unknown uncertainty. */
    public static CalibrationRequest line() {
        return new CalibrationRequest(1, false, LoadReference.force("N", Double.NaN), Double.NaN, false);
    }

    /** Returns the same with another degree. */
    public CalibrationRequest withDegree(int other) {
        return new CalibrationRequest(other, zeroOfEachRun, reference, ratedLoadN, columnsAsNamed);
    }

    /** Returns the same with another reference. */
    public CalibrationRequest withReference(LoadReference other) {
        return new CalibrationRequest(degree, zeroOfEachRun, other, ratedLoadN, columnsAsNamed);
    }
}
