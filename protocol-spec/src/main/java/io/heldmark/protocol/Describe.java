package io.heldmark.protocol;

import java.util.List;

/**
 * What a device says of itself.
 *
 * @param protocolMajor major version of the protocol, 1.
 * @param protocolMinor minor version of the protocol.
 * @param capabilities set of {@code CAN_…} bits.
 * @param tickRateHz rate of the device's tick counter, in hertz, 1 to 2^32 - 1.
 * @param sampleRateMilliHz nominal sample rate, in thousandths of a hertz.
 * @param deviceId identity that never changes and is unique to this device, 1 to 32 bytes of UTF-8.
 * @param model model name, empty where unknown.
 * @param firmware firmware version, empty where unknown.
 * @param supportedRatesMilliHz rates that the set-rate command accepts; empty where the rate is fixed.
 * @param channels the device's channels, by rising index.
 */
public record Describe(
        int protocolMajor,
        int protocolMinor,
        int capabilities,
        long tickRateHz,
        long sampleRateMilliHz,
        String deviceId,
        String model,
        String firmware,
        List<Long> supportedRatesMilliHz,
        List<Channel> channels) {
    /** Capability: the device answers commands. */
    public static final int CAN_COMMAND = 1;
    /** Capability: the device answers pings. */
    public static final int CAN_PING = 2;
    /** Capability: the sample rate can be set. */
    public static final int CAN_SET_RATE = 4;
    /** Capability: the device can make itself seen or heard. */
    public static final int CAN_IDENTIFY = 8;
    /** Capability: the device holds a calibration that can be read. */
    public static final int CAN_READ_CALIBRATION = 16;
    /** Capability: the device's calibration can be written. */
    public static final int CAN_WRITE_CALIBRATION = 32;

    /** Copies the lists, so that the message cannot change. */
    public Describe {
        supportedRatesMilliHz = List.copyOf(supportedRatesMilliHz);
        channels = List.copyOf(channels);
    }

    /** Returns the nominal sample rate in hertz. */
    public double sampleRateHz() {
        return sampleRateMilliHz / 1000.0;
    }
}
