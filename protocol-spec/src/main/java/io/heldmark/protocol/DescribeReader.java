package io.heldmark.protocol;

import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/** Reads the payload of a describe message. Layout: specification, section "describe". */
final class DescribeReader {
    private final byte[] bytes;
    private final int offset;
    private final int end;
    private @Nullable String deviceId;
    private @Nullable String model;
    private @Nullable String firmware;
    private @Nullable List<Long> rates;
    private final List<Channel> channels = new ArrayList<>();
    private final @Nullable FactoryCalibration[] calibrations = new @Nullable FactoryCalibration[Wire.MAX_CHANNELS];

    private DescribeReader(byte[] bytes, int offset, int length) {
        this.bytes = bytes;
        this.offset = offset;
        this.end = offset + length;
    }

    /** Returns the message, or null where the payload is malformed. */
    static @Nullable Describe read(byte[] bytes, int offset, int length) {
        if (length < Wire.DESCRIBE_HEADER_BYTES) {
            return null;
        }
        DescribeReader reader = new DescribeReader(bytes, offset, length);
        return reader.elements() ? reader.message() : null;
    }

    private boolean elements() {
        int at = offset + Wire.DESCRIBE_HEADER_BYTES;
        while (at < end) {
            if (end - at < 2) {
                return false;
            }
            int tag = LittleEndian.u8(bytes, at);
            int length = LittleEndian.u8(bytes, at + 1);
            at += 2;
            if (length > end - at || !element(tag, at, length)) {
                return false;
            }
            at += length;
        }
        return true;
    }

    private boolean element(int tag, int at, int length) {
        return switch (tag) {
            case Wire.TAG_DEVICE_ID -> deviceId == null && (deviceId = text(at, length)) != null;
            case Wire.TAG_MODEL -> model == null && (model = text(at, length)) != null;
            case Wire.TAG_FIRMWARE -> firmware == null && (firmware = text(at, length)) != null;
            case Wire.TAG_RATES -> rates == null && (rates = rates(at, length)) != null;
            case Wire.TAG_CHANNEL -> channel(at, length);
            case Wire.TAG_CALIBRATION -> calibration(at, length);
            default -> true; // An element of a later minor version.
        };
    }

    private boolean channel(int at, int length) {
        if (length < Wire.CHANNEL_HEADER_BYTES || channels.size() == Wire.MAX_CHANNELS) {
            return false;
        }
        String name = text(at + Wire.CHANNEL_HEADER_BYTES, length - Wire.CHANNEL_HEADER_BYTES);
        if (name == null) {
            return false;
        }
        channels.add(new Channel(
                LittleEndian.u8(bytes, at),
                name,
                LittleEndian.u8(bytes, at + 1),
                plain(at + 2),
                plain(at + 6),
                plain(at + 10),
                Optional.empty()));
        return true;
    }

    private boolean calibration(int at, int length) {
        CalibrationBytes element = CalibrationBytes.read(bytes, at, length);
        if (element == null || calibrations[element.channel()] != null) {
            return false;
        }
        calibrations[element.channel()] = element.calibration();
        return true;
    }

    private @Nullable Describe message() {
        List<Channel> calibrated = withCalibrations(channels, calibrations);
        if (deviceId == null || calibrated == null) {
            return null;
        }
        Describe describe = new Describe(
                LittleEndian.u8(bytes, offset),
                LittleEndian.u8(bytes, offset + 1),
                LittleEndian.u16(bytes, offset + 2),
                LittleEndian.u32(bytes, offset + 4),
                LittleEndian.u32(bytes, offset + 8),
                deviceId,
                model == null ? "" : model,
                firmware == null ? "" : firmware,
                rates == null ? List.of() : rates,
                calibrated);
        return DescribeRules.problem(describe) == null ? describe : null;
    }

    /** Returns the channels with their calibrations, or null where a calibration has no channel. */
    static @Nullable List<Channel> withCalibrations(
            List<Channel> channels, @Nullable FactoryCalibration[] calibrations) {
        List<Channel> result = new ArrayList<>();
        int used = 0;
        for (Channel c : channels) {
            FactoryCalibration calibration = c.index() < calibrations.length ? calibrations[c.index()] : null;
            used += calibration == null ? 0 : 1;
            result.add(new Channel(
                    c.index(),
                    c.name(),
                    c.adcBits(),
                    c.bandwidthHz(),
                    c.gain(),
                    c.ratedLoadN(),
                    Optional.ofNullable(calibration)));
        }
        int given = 0;
        for (FactoryCalibration calibration : calibrations) {
            given += calibration == null ? 0 : 1;
        }
        return used == given ? result : null;
    }

    private @Nullable List<Long> rates(int at, int length) {
        if (length == 0 || length % 4 != 0) {
            return null;
        }
        List<Long> result = new ArrayList<>();
        for (int i = at; i < at + length; i += 4) {
            result.add(LittleEndian.u32(bytes, i));
        }
        return result;
    }

    private @Nullable String text(int at, int length) {
        try {
            return StandardCharsets.UTF_8
                    .newDecoder()
                    .decode(ByteBuffer.wrap(bytes, at, length))
                    .toString();
        } catch (CharacterCodingException e) {
            return null;
        }
    }

    private float plain(int at) {
        return LittleEndian.f32(bytes, at) + 0.0f; // Minus zero becomes zero: text cannot tell them apart.
    }
}
