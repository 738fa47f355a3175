package io.heldmark.pipeline;

/**
 * A calibration of the station for one channel of one device, whatever link that comes by.
 *
 * @param id which one it is, for people and recordings, for example {@code cell-7/0 v3}.
 * @param deviceId identity of the device, as it says itself.
 * @param deviceChannel channel on the device, 0 to 7.
 * @param calibration the calibration.
 * @param overrides whether it also wins over one that stands in the link's address: a re-evaluation.
 */
public record BoundCalibration(
        String id, String deviceId, int deviceChannel, StationCalibration calibration, boolean overrides) {
    /** Refuses what is bound to no device: it would hold for every one. */
    public BoundCalibration {
        if (deviceId.isEmpty() || deviceChannel < 0 || deviceChannel > 7) {
            throw new IllegalArgumentException(
                    "a device and a channel of 0 to 7 are needed: " + deviceId + ", " + deviceChannel);
        }
    }

    /** Returns the same as a re-evaluation. */
    public BoundCalibration overriding() {
        return new BoundCalibration(id, deviceId, deviceChannel, calibration, true);
    }

    /** Tells whether it is of a device's channel. */
    public boolean isOf(String device, int channel) {
        return deviceId.equals(device) && deviceChannel == channel;
    }
}
