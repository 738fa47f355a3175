package io.heldmark.model;

/**
 * One channel of the station: where it comes from and what its numbers mean.
 *
 * @param channel station-wide channel number, counted from 0 in the order in which links and their channels appear.
 * @param link name of the link, as the user wrote it.
 * @param deviceId identity of the device; empty where it does not say.
 * @param deviceChannel channel number on the device, 0 to 7.
 * @param name name for people.
 * @param limb the limb it measures.
 * @param sampleRateHz nominal sample rate.
 * @param bandwidthHz the converter's -3 dB bandwidth; 0 where unknown.
 * @param ratedLoadN rated load; 0 where unknown.
 * @param unit {@code N}, or {@code count} while there is no calibration.
 * @param calibration {@code factory}, {@code station} or {@code unknown}.
 * @param calibrationRelativeU relative standard uncertainty of the slope; NaN where unknown.
 * @param resolution size of one count in the channel's unit.
 * @param cell what is known of the calibration beyond that.
 */
public record ChannelInfo(
        int channel,
        String link,
        String deviceId,
        int deviceChannel,
        String name,
        Limb limb,
        double sampleRateHz,
        double bandwidthHz,
        double ratedLoadN,
        String unit,
        String calibration,
        double calibrationRelativeU,
        double resolution,
        CellCalibration cell) {
    /** Makes a channel of whose calibration no more than the slope's uncertainty is known. */
    public ChannelInfo(
            int channel,
            String link,
            String deviceId,
            int deviceChannel,
            String name,
            Limb limb,
            double sampleRateHz,
            double bandwidthHz,
            double ratedLoadN,
            String unit,
            String calibration,
            double calibrationRelativeU,
            double resolution) {
        this(
                channel,
                link,
                deviceId,
                deviceChannel,
                name,
                limb,
                sampleRateHz,
                bandwidthHz,
                ratedLoadN,
                unit,
                calibration,
                calibrationRelativeU,
                resolution,
                CellCalibration.UNKNOWN);
    }
}
