package io.heldmark.model;

import org.jspecify.annotations.Nullable;

/**
 * The session zero of one channel.
 *
 * @param channel station-wide channel number.
 * @param state {@code none}, {@code taking}, {@code taken} or {@code refused}.
 * @param atNs station time of the last change.
 * @param zeroN level that is subtracted, relative to the calibration's own zero, in newtons (or counts).
 * @param standardUncertaintyN its standard uncertainty.
 * @param reason why it was refused, in plain words; absent otherwise.
 */
public record ZeroState(
        int channel,
        String state,
        long atNs,
        double zeroN,
        double standardUncertaintyN,
        @Nullable String reason) {}
