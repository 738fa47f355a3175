package io.heldmark.protocol;

/**
 * A straight-line calibration that the device holds: {@code forceN = (counts - zeroCounts) * newtonPerCount}.
 *
 * @param zeroCounts reading of the unloaded cell, in counts.
 * @param newtonPerCount slope, in newtons per count; finite, not zero.
 * @param relativeStandardUncertainty relative standard uncertainty of the slope; NaN where the device does not say.
 * @param calibratedOn date as the number YYYYMMDD; 0 where unknown.
 */
public record FactoryCalibration(
        int zeroCounts, float newtonPerCount, float relativeStandardUncertainty, int calibratedOn) {}
