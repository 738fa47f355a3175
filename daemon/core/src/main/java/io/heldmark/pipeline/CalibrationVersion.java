package io.heldmark.pipeline;

import java.nio.file.Path;
import java.time.LocalDate;

/**
 * A saved calibration of one channel of one device.
 *
 * @param version counts from 1.
 * @param by who calibrated; empty where the file does not say.
 * @param evaluatedOn day on which it was evaluated, as the file says it; may be empty.
 * @param validUntil its last day.
 * @param file where it is.
 * @param bound what the station works with.
 */
public record CalibrationVersion(
        int version, String by, String evaluatedOn, LocalDate validUntil, Path file, BoundCalibration bound) {
    /** Tells whether its last day is over. */
    public boolean overOn(LocalDate day) {
        return validUntil.isBefore(day);
    }
}
