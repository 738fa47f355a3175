package io.heldmark.protocol;

import java.util.OptionalDouble;
import java.util.OptionalInt;

/**
 * A device's health report.
 *
 * @param tick device tick at which the report was made, unsigned 32 bit.
 * @param batteryPercent charge of the device's own power cell, 0 to 100; empty where it has none or does not know.
 * @param temperatureC temperature, in degrees Celsius; empty where unknown.
 * @param adcFaultCount converter faults since power-up, wrapping at 2^16.
 * @param lostSampleCount samples the device itself lost since power-up, wrapping at 2^32.
 * @param rejectedFrameCount frames from the station that the device could not use, wrapping at 2^16.
 */
public record Status(
        long tick,
        OptionalInt batteryPercent,
        OptionalDouble temperatureC,
        int adcFaultCount,
        long lostSampleCount,
        int rejectedFrameCount) {}
