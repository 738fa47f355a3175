package io.heldmark.protocol;

import java.nio.charset.StandardCharsets;

/** Writes the payload of a describe message: header, texts, rates, channels, calibrations. */
final class DescribeWriter {
    private final byte[] out;
    private int at;

    private DescribeWriter(byte[] out) {
        this.out = out;
    }

    /** Writes from index 0 and returns the length; the describe keeps the rules and {@code out} holds 1024 bytes. */
    static int write(Describe d, byte[] out) {
        DescribeWriter w = new DescribeWriter(out);
        w.header(d);
        w.text(Wire.TAG_DEVICE_ID, d.deviceId());
        w.text(Wire.TAG_MODEL, d.model());
        w.text(Wire.TAG_FIRMWARE, d.firmware());
        w.rates(d);
        d.channels().forEach(w::channel);
        d.channels().forEach(c -> c.calibration().ifPresent(k -> w.calibration(c.index(), k)));
        return w.at;
    }

    private void header(Describe d) {
        LittleEndian.put8(out, 0, d.protocolMajor());
        LittleEndian.put8(out, 1, d.protocolMinor());
        LittleEndian.put16(out, 2, d.capabilities());
        LittleEndian.put32(out, 4, d.tickRateHz());
        LittleEndian.put32(out, 8, d.sampleRateMilliHz());
        at = Wire.DESCRIBE_HEADER_BYTES;
    }

    private void text(int tag, String value) {
        if (!value.isEmpty()) {
            byte[] bytes = value.getBytes(StandardCharsets.UTF_8);
            element(tag, bytes.length);
            append(bytes);
        }
    }

    private void rates(Describe d) {
        if (!d.supportedRatesMilliHz().isEmpty()) {
            element(Wire.TAG_RATES, 4 * d.supportedRatesMilliHz().size());
            for (long rate : d.supportedRatesMilliHz()) {
                LittleEndian.put32(out, at, rate);
                at += 4;
            }
        }
    }

    private void channel(Channel c) {
        byte[] name = c.name().getBytes(StandardCharsets.UTF_8);
        element(Wire.TAG_CHANNEL, Wire.CHANNEL_HEADER_BYTES + name.length);
        LittleEndian.put8(out, at, c.index());
        LittleEndian.put8(out, at + 1, c.adcBits());
        LittleEndian.putF32(out, at + 2, c.bandwidthHz());
        LittleEndian.putF32(out, at + 6, c.gain());
        LittleEndian.putF32(out, at + 10, c.ratedLoadN());
        at += Wire.CHANNEL_HEADER_BYTES;
        append(name);
    }

    private void calibration(int channel, FactoryCalibration k) {
        element(Wire.TAG_CALIBRATION, Wire.CALIBRATION_BYTES);
        CalibrationBytes.write(channel, k, out, at);
        at += Wire.CALIBRATION_BYTES;
    }

    private void element(int tag, int length) {
        LittleEndian.put8(out, at, tag);
        LittleEndian.put8(out, at + 1, length);
        at += 2;
    }

    private void append(byte[] bytes) {
        System.arraycopy(bytes, 0, out, at, bytes.length);
        at += bytes.length;
    }
}
