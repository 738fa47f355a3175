package io.heldmark.calibration;

import io.heldmark.model.Bend;
import io.heldmark.model.CellCalibration;
import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

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
 * @param zeroTakenOff mean of the runs' zeros that were subtracted from the counts; 0 where none were.
 */
public record CalibrationResult(
        CalibrationRequest request,
        int readings,
        CalibrationCurve curve,
        List<Coefficient> coefficients,
        List<LoadResult> loads,
        List<RunResult> runs,
        List<String> notes,
        double zeroTakenOff) {
    private static final double LEAST_SHARE = 0.2;

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

    /**
     * Returns what the signal path needs to know of the curve's uncertainty. Beside the fit's covariance the variance of the slope holds
     * what one reading and the next mounting add, as a share of the force: the largest share that any load from a fifth of the
     * range upwards shows (the project's rule, no published source; what lies below counts for little against the session zero).
     *
     * @param reference what the loads are called.
     */
    public CellCalibration cell(String reference) {
        CellCalibration fitted = curve.cell(
                Math.abs(greatest().loadN()), reference, request.reference().relativeU());
        List<Double> covariance = new ArrayList<>(fitted.covariance());
        int slope = request.degree() + 2; // Row and column 1.
        covariance.set(slope, covariance.get(slope) + shareOfReadings());
        return new CellCalibration(
                fitted.calibratedToN(), Double.NaN, fitted.referenceRelativeU(), reference, covariance);
    }

    /** Returns the relative standard uncertainty of the slope in use: {@link #cell} and the loads' own. */
    public double slopeRelativeU() {
        CellCalibration cell = cell("");
        return Math.sqrt(
                cell.covariance().get(request.degree() + 2) + cell.referenceRelativeU() * cell.referenceRelativeU());
    }

    /**
     * Returns how a parabola is bent; absent for a straight line.
     *
     * @throws CalibrationException if it turns back between zero and the loads, so that a station cannot use it.
     */
    public @Nullable Bend bend() throws CalibrationException {
        if (request.degree() == 1) {
            return null;
        }
        double perN = coefficients.get(2).value() / coefficients.get(1).value();
        try {
            return new Bend(
                    perN,
                    Math.min(0, loads.get(0).loadN()),
                    Math.max(0, loads.get(loads.size() - 1).loadN()));
        } catch (IllegalArgumentException e) {
            throw new CalibrationException(
                    "the parabola turns back between zero and the loads; fit a straight line, or take"
                            + " readings down to zero");
        }
    }

    private double shareOfReadings() {
        double rangeN = Math.abs(greatest().loadN());
        double largest = 0;
        for (LoadResult load : loads) {
            if (Math.abs(load.loadN()) >= LEAST_SHARE * rangeN) {
                double reading = load.uncertainty().readingN() / load.loadN();
                double mounting = load.uncertainty().mountingN() / load.loadN();
                largest = Math.max(largest, reading * reading + mounting * mounting);
            }
        }
        return largest;
    }
}
