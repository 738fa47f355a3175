package io.heldmark.cells;

import java.time.LocalDate;

/**
 * What a certificate says beside the numbers.
 *
 * @param id which saved calibration it is; empty where it was not saved.
 * @param deviceId identity of the device.
 * @param deviceChannel channel on the device.
 * @param by who calibrated.
 * @param loads which masses or which reference; may be empty.
 * @param input where the readings came from.
 * @param evaluatedOn day of the evaluation, as 2026-01-31.
 * @param validUntil last day.
 * @param stationVersion version of the station.
 */
public record CalibrationFacts(
        String id,
        String deviceId,
        int deviceChannel,
        String by,
        String loads,
        String input,
        String evaluatedOn,
        LocalDate validUntil,
        String stationVersion) {}
