package io.heldmark.pipeline;

import io.heldmark.calibrate.Calibrator;
import io.heldmark.calibration.CalibrationException;
import io.heldmark.calibration.CalibrationResult;
import io.heldmark.model.Bend;
import io.heldmark.model.CellCalibration;
import org.jspecify.annotations.Nullable;

/**
 * A calibration that the station was given for a channel; it wins over the factory's.
 *
 * @param zeroCounts reading of the unloaded cell, in counts.
 * @param newtonPerCount slope, of a bent curve that at zero, in newtons per count; finite, not zero.
 * @param relativeU relative standard uncertainty of the slope; NaN where unknown.
 * @param cell what else is known of it.
 * @param bend how the curve is bent; absent for a straight line.
 */
public record StationCalibration(
        double zeroCounts,
        double newtonPerCount,
        double relativeU,
        CellCalibration cell,
        @Nullable Bend bend) {
    /** Makes a straight line. */
    public StationCalibration(double zeroCounts, double newtonPerCount, double relativeU, CellCalibration cell) {
        this(zeroCounts, newtonPerCount, relativeU, cell, null);
    }

    /** Makes a straight line of which nothing else is known. */
    public StationCalibration(double zeroCounts, double newtonPerCount, double relativeU) {
        this(zeroCounts, newtonPerCount, relativeU, CellCalibration.UNKNOWN);
    }

    /**
     * Returns what a station works with of a calibration.
     *
     * @param loads what its loads are called.
     * @throws CalibrationException if a station cannot work with its curve.
     */
    public static StationCalibration of(CalibrationResult result, String loads) throws CalibrationException {
        return new StationCalibration(
                result.coefficients().get(0).value() + result.zeroTakenOff(),
                1 / result.coefficients().get(1).value(),
                result.slopeRelativeU(),
                result.cell(loads),
                result.bend());
    }

    /** Returns the force of counts, which may be a mean of many, in newtons. */
    public double forceN(double counts) {
        double tangentN = (counts - zeroCounts) * newtonPerCount;
        return bend == null ? tangentN : bend.forceN(tangentN);
    }

    /** Returns what turns counts into newtons. */
    public Calibrator calibrator() {
        return bend == null
                ? new Calibrator(zeroCounts, newtonPerCount, relativeU)
                : new Calibrator(zeroCounts, newtonPerCount, relativeU, bend);
    }
}
