package io.heldmark.model;

import org.jspecify.annotations.Nullable;

/**
 * Health of one link over the last second, and its totals.
 *
 * @param link name of the link.
 * @param state {@code connecting}, {@code waiting} (connected, nothing usable yet), {@code streaming}, {@code lost} or
 *     {@code fault}.
 * @param reason plain words for people; absent where all is well.
 * @param atNs station time of this report.
 * @param sampleRateHz measured rate of samples per channel; 0 without samples.
 * @param nominalRateHz rate that the device declares; 0 where unknown.
 * @param arrivalJitterNs standard deviation of arrival against the clock estimate.
 * @param timeStandardUncertaintyNs standard uncertainty of aligned times.
 * @param clockSkewPpm device clock against the station's; NaN where not known.
 * @param samples samples received per channel, total.
 * @param lostSamples samples known to be missing, total.
 * @param skippedBytes bytes that belong to no usable message, total.
 * @param crcFailures frames whose check failed, total.
 * @param duplicates frames received twice, total.
 * @param reordered frames that came too late to be used, total.
 * @param putBack frames that came late and were put into their places, total.
 * @param reconnects times the link came back, total.
 * @param clockRestarts times the clock estimate was restarted, total.
 * @param batteryPercent charge; -1 where unknown.
 * @param temperatureC temperature; NaN where unknown.
 */
public record LinkHealth(
        String link,
        String state,
        @Nullable String reason,
        long atNs,
        double sampleRateHz,
        double nominalRateHz,
        double arrivalJitterNs,
        double timeStandardUncertaintyNs,
        double clockSkewPpm,
        long samples,
        long lostSamples,
        long skippedBytes,
        long crcFailures,
        long duplicates,
        long reordered,
        long putBack,
        long reconnects,
        long clockRestarts,
        int batteryPercent,
        double temperatureC) {}
