package io.heldmark.protocol;

import java.nio.charset.StandardCharsets;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * The ranges that the specification gives for a describe message, for both directions and all bindings: decoders call
 * a message that breaks one malformed, encoders refuse it.
 */
final class DescribeRules {
    private DescribeRules() {}

    /** Returns the first rule that a describe breaks, as {@code name=value}, or null where it keeps them all. */
    static @Nullable String problem(Describe d) {
        String problem = first(
                range("protocolMajor", d.protocolMajor(), Wire.VERSION_MAJOR, Wire.VERSION_MAJOR),
                range("protocolMinor", d.protocolMinor(), 0, Wire.U8_MAX),
                range("capabilities", d.capabilities(), 0, Wire.U16_MAX),
                range("tickRateHz", d.tickRateHz(), 1, Wire.U32_MAX),
                range("sampleRateMilliHz", d.sampleRateMilliHz(), 1, Wire.U32_MAX),
                text("deviceId", d.deviceId(), 1, Wire.MAX_TEXT_BYTES),
                text("model", d.model(), 0, Wire.MAX_TEXT_BYTES),
                text("firmware", d.firmware(), 0, Wire.MAX_TEXT_BYTES),
                range("supportedRates", d.supportedRatesMilliHz().size(), 0, Wire.MAX_RATES),
                range("channels", d.channels().size(), 1, Wire.MAX_CHANNELS));
        for (long rate : d.supportedRatesMilliHz()) {
            problem = first(problem, range("supportedRateMilliHz", rate, 1, Wire.U32_MAX));
        }
        return first(problem, channels(d.channels()));
    }

    /** Returns the first rule that a calibration breaks, or null. */
    static @Nullable String problem(FactoryCalibration c) {
        float slope = c.newtonPerCount();
        float u = c.relativeStandardUncertainty();
        return first(
                Float.isFinite(slope) && slope != 0 ? null : "newtonPerCount=" + slope,
                Float.isNaN(u) || (Float.isFinite(u) && u >= 0) ? null : "relativeStandardUncertainty=" + u,
                isDate(c.calibratedOn()) ? null : "calibratedOn=" + c.calibratedOn());
    }

    private static @Nullable String channels(List<Channel> channels) {
        String problem = null;
        int previous = -1;
        for (Channel c : channels) {
            problem = first(
                    problem,
                    range("channel", c.index(), previous + 1, Wire.MAX_CHANNELS - 1),
                    text("channelName", c.name(), 0, Wire.MAX_NAME_BYTES),
                    range("adcBits", c.adcBits(), 1, 32),
                    notNegative("bandwidthHz", c.bandwidthHz()),
                    notNegative("gain", c.gain()),
                    notNegative("ratedLoadN", c.ratedLoadN()),
                    c.calibration().map(DescribeRules::problem).orElse(null));
            previous = c.index();
        }
        return problem;
    }

    private static @Nullable String text(String name, String value, int minBytes, int maxBytes) {
        int bytes = value.getBytes(StandardCharsets.UTF_8).length;
        boolean wellFormed = StandardCharsets.UTF_8.newEncoder().canEncode(value)
                && value.chars().noneMatch(Character::isISOControl);
        return wellFormed && bytes >= minBytes && bytes <= maxBytes ? null : name + "=" + value;
    }

    private static @Nullable String range(String name, long value, long min, long max) {
        return value >= min && value <= max ? null : name + "=" + value;
    }

    private static @Nullable String notNegative(String name, float value) {
        return Float.isFinite(value) && value >= 0 ? null : name + "=" + value;
    }

    private static boolean isDate(int date) {
        if (date == 0) {
            return true;
        }
        int month = date / 100 % 100;
        int day = date % 100;
        return date >= 1900_01_01 && date <= 9999_12_31 && month >= 1 && month <= 12 && day >= 1 && day <= 31;
    }

    private static @Nullable String first(@Nullable String... problems) {
        for (String problem : problems) {
            if (problem != null) {
                return problem;
            }
        }
        return null;
    }
}
