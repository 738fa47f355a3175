package io.heldmark.pipeline;

import io.heldmark.config.StationSettings;
import io.heldmark.model.TrialConditions;
import org.jspecify.annotations.Nullable;

/**
 * What the user says of text files.
 *
 * @param settings the effective settings.
 * @param left name of the left limb's column; absent: columns that begin with {@code left}, in any case.
 * @param right the same for the right limb.
 * @param conditions what the user says of the trials, by their onset on the file's own axis.
 * @param calibrationRelativeU relative standard uncertainty of the sensors' calibration; NaN where unknown.
 * @param bandwidthHz -3 dB bandwidth of the sensors' converters; 0 where unknown.
 */
public record CsvOptions(
        StationSettings settings,
        @Nullable String left,
        @Nullable String right,
        TrialConditions conditions,
        double calibrationRelativeU,
        double bandwidthHz) {}
