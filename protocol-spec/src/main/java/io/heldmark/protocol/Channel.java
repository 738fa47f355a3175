package io.heldmark.protocol;

import java.util.Optional;

/**
 * One channel of a device.
 *
 * @param index channel number, 0 to 7; its bit in the channel mask of a samples message.
 * @param name name of the channel, empty where the device gives none.
 * @param adcBits resolution of the converter, in bits, 1 to 32.
 * @param bandwidthHz the converter's -3 dB bandwidth, in hertz; 0 where unknown.
 * @param gain gain before the converter; 0 where unknown.
 * @param ratedLoadN rated load of the cell, in newtons; 0 where unknown.
 * @param calibration the factory calibration, where the device holds one.
 */
public record Channel(
        int index,
        String name,
        int adcBits,
        float bandwidthHz,
        float gain,
        float ratedLoadN,
        Optional<FactoryCalibration> calibration) {}
