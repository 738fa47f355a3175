package io.heldmark.pipeline;

import io.heldmark.model.CellCalibration;

/**
 * A calibration that the station was given for a channel; it wins over the factory's.
 *
 * @param zeroCounts reading of the unloaded cell, in counts.
 * @param newtonPerCount slope, in newtons per count; finite, not zero.
 * @param relativeU relative standard uncertainty of the slope; NaN where unknown.
 * @param cell what else is known of it.
 */
public record StationCalibration(double zeroCounts, double newtonPerCount, double relativeU, CellCalibration cell) {
    /** Makes a calibration of which nothing else is known. */
    public StationCalibration(double zeroCounts, double newtonPerCount, double relativeU) {
        this(zeroCounts, newtonPerCount, relativeU, CellCalibration.UNKNOWN);
    }
}
