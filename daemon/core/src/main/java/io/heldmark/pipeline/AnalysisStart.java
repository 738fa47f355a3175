package io.heldmark.pipeline;

import io.heldmark.config.StationSettings;

/**
 * How a file is analysed.
 *
 * @param kind {@code recording} or {@code csv}.
 * @param zero what forces are relative to: {@code session}, the session zero that the recording holds, or
 *     {@code restBefore}, the rest before each contraction.
 * @param originNs the time on the input's own axis, in nanoseconds, that all times given from now on count from.
 * @param settings the effective settings; of a recording those that change results are its own.
 * @param invented whether the recording says that its data were invented.
 */
public record AnalysisStart(String kind, String zero, long originNs, StationSettings settings, boolean invented) {}
