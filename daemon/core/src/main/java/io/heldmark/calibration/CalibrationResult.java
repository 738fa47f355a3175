package io.heldmark.calibration;

import java.util.List;

/**
 * A calibration and everything that was found with it.
 *
 * @param request how it was evaluated.
 * @param readings how many readings.
 * @param curve the fitted curve and its inverse.
 * @param coefficients b0, b1 (and b2).
 * @param loads what was found at each load, from the lowest.
 * @param runs the zeros of each run.
 * @param notes what the user should know.
 */
public record CalibrationResult(
        CalibrationRequest request,
        int readings,
        CalibrationCurve curve,
        List<Coefficient> coefficients,
        List<LoadResult> loads,
        List<RunResult> runs,
        List<String> notes) {
    /** Copies the lists. */
    public CalibrationResult {
        coefficients = List.copyOf(coefficients);
        loads = List.copyOf(loads);
        runs = List.copyOf(runs);
        notes = List.copyOf(notes);
    }

    /** Returns the load that is greatest, whatever its sign. */
    public LoadResult greatest() {
        LoadResult greatest = loads.get(0);
        for (LoadResult load : loads) {
            greatest = Math.abs(load.loadN()) > Math.abs(greatest.loadN()) ? load : greatest;
        }
        return greatest;
    }

    /** Returns the relative standard uncertainty of a force at the greatest load, all parts together. */
    public double relativeU() {
        LoadResult greatest = greatest();
        return greatest.uncertainty().standardUncertaintyN() / Math.abs(greatest.loadN());
    }
}
