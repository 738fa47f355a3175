package io.heldmark.pipeline;

import io.heldmark.model.Limb;
import org.jspecify.annotations.Nullable;

/**
 * What the station was told of one channel of a link.
 *
 * @param deviceChannel channel number on the device, 0 to 7; {@link #FIRST} for the lowest that the device has.
 * @param limb the limb that it measures.
 * @param calibration the station's own calibration; absent where the factory's holds.
 */
public record ChannelSetup(
        int deviceChannel, Limb limb, @Nullable StationCalibration calibration) {
    /** The device's lowest channel. */
    public static final int FIRST = -1;
}
