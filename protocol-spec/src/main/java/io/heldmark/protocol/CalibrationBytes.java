package io.heldmark.protocol;

import org.jspecify.annotations.Nullable;

/**
 * The binary form of a channel's calibration: value of the calibration element of describe, argument of the
 * write-calibration command, data of the reply to read-calibration.
 *
 * @param channel channel number, 0 to 7.
 * @param calibration the calibration.
 */
public record CalibrationBytes(int channel, FactoryCalibration calibration) {
    /**
     * Reads a calibration, or returns null where the bytes break a rule of the specification.
     *
     * @param bytes array that holds it.
     * @param offset index of the first byte.
     * @param length number of bytes; more than 17 are ignored.
     */
    public static @Nullable CalibrationBytes read(byte[] bytes, int offset, int length) {
        if (length < Wire.CALIBRATION_BYTES) {
            return null;
        }
        int channel = LittleEndian.u8(bytes, offset);
        long date = LittleEndian.u32(bytes, offset + 13);
        if (channel >= Wire.MAX_CHANNELS || date > Integer.MAX_VALUE) {
            return null;
        }
        FactoryCalibration calibration = new FactoryCalibration(
                LittleEndian.i32(bytes, offset + 1),
                LittleEndian.f32(bytes, offset + 5),
                LittleEndian.f32(bytes, offset + 9) + 0.0f, // Minus zero becomes zero: text cannot tell them apart.
                (int) date);
        return DescribeRules.problem(calibration) == null ? new CalibrationBytes(channel, calibration) : null;
    }

    /** Returns the 17 bytes of this calibration; throws {@link IllegalArgumentException} where it breaks a rule. */
    public byte[] toBytes() {
        Checks.range("channel", channel, 0, Wire.MAX_CHANNELS - 1);
        String problem = DescribeRules.problem(calibration);
        if (problem != null) {
            throw new IllegalArgumentException("calibration is not allowed: " + problem);
        }
        byte[] bytes = new byte[Wire.CALIBRATION_BYTES];
        write(channel, calibration, bytes, 0);
        return bytes;
    }

    static void write(int channel, FactoryCalibration k, byte[] out, int at) {
        LittleEndian.put8(out, at, channel);
        LittleEndian.put32(out, at + 1, k.zeroCounts());
        LittleEndian.putF32(out, at + 5, k.newtonPerCount());
        LittleEndian.putF32(out, at + 9, k.relativeStandardUncertainty());
        LittleEndian.put32(out, at + 13, k.calibratedOn());
    }
}
