package io.heldmark.protocol;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;

/** A describe in the making: opened by a D line, filled by C and K lines, closed by an E line. */
final class DescribeLines {
    private static final long ABSENT = Long.MIN_VALUE;
    private static final int MAX_FOREIGN_LINES = 64;
    private static final Pattern INTEGER = Pattern.compile("-?[0-9]{1,18}");
    private static final Pattern NUMBER = Pattern.compile("-?[0-9]+(\\.[0-9]+)?([eE][-+]?[0-9]{1,3})?");

    /** Bytes of its lines so far, line ends included. */
    int bytes;

    private final int major;
    private final int minor;
    private final Map<String, String> header;
    private final List<Channel> channels = new ArrayList<>();
    private final @Nullable FactoryCalibration[] calibrations = new @Nullable FactoryCalibration[Wire.MAX_CHANNELS];
    private int lines;

    private DescribeLines(int major, int minor, Map<String, String> header) {
        this.major = major;
        this.minor = minor;
        this.header = header;
    }

    /** Reads a D line and opens a describe, or returns null where the line is malformed. */
    static @Nullable DescribeLines open(LineFields f) {
        String version = f.need().text();
        int point = version.indexOf('.');
        if (!f.ok() || point < 1) {
            return null;
        }
        int major = natural(version.substring(0, point), Wire.U8_MAX);
        int minor = natural(version.substring(point + 1), Wire.U8_MAX);
        // What stands behind another major version may have any form.
        Map<String, String> header = major == Wire.VERSION_MAJOR ? pairs(f) : Map.of();
        return f.ok() && major >= 0 && minor >= 0 ? new DescribeLines(major, minor, header) : null;
    }

    /** Returns whether this is a describe of the major version that this codec knows. */
    boolean isKnownVersion() {
        return major == Wire.VERSION_MAJOR;
    }

    /** Takes a C line and returns whether it is well-formed. */
    boolean channel(LineFields f) {
        if (!isKnownVersion()) {
            return ++lines <= MAX_FOREIGN_LINES;
        }
        lines++;
        int index = (int) f.need().integer(0, Wire.MAX_CHANNELS - 1);
        Map<String, String> pairs = pairs(f);
        if (!f.ok() || index != channels.size()) { // A samples line lists channels 0 up without a hole.
            return false;
        }
        channels.add(new Channel(
                index,
                pairs.getOrDefault("name", ""),
                natural(pairs.get("bits"), Wire.U8_MAX),
                decimal(pairs.getOrDefault("bandwidthhz", "0")),
                decimal(pairs.getOrDefault("gain", "0")),
                decimal(pairs.getOrDefault("ratedn", "0")),
                Optional.empty()));
        return true;
    }

    /** Takes a K line and returns whether it is well-formed. */
    boolean calibration(LineFields f) {
        if (!isKnownVersion()) {
            return ++lines <= MAX_FOREIGN_LINES;
        }
        lines++;
        int index = (int) f.need().integer(0, Wire.MAX_CHANNELS - 1);
        Map<String, String> pairs = pairs(f);
        long zero = number(pairs.get("zero"), Integer.MIN_VALUE, Integer.MAX_VALUE);
        float slope = decimal(pairs.getOrDefault("slope", ""));
        String u = pairs.get("u");
        float relativeU = u == null ? Float.NaN : decimal(u);
        int date = natural(pairs.getOrDefault("date", "0"), Integer.MAX_VALUE);
        boolean given = zero != ABSENT && date >= 0 && (u == null || !Float.isNaN(relativeU));
        if (!f.ok() || !given || calibrations[index] != null) {
            return false;
        }
        calibrations[index] = new FactoryCalibration((int) zero, slope, relativeU, date);
        return true;
    }

    /** Takes the E line and returns the message, or null where it is incomplete or breaks a rule. */
    @Nullable Describe close(LineFields f) {
        boolean countGiven = f.next() && !f.isEmpty();
        if ((countGiven && f.integer(0, Wire.U8_MAX) != lines) || !f.ok()) {
            return null;
        }
        List<Channel> calibrated = DescribeReader.withCalibrations(channels, calibrations);
        List<Long> rates = rates(header.get("rates"));
        if (calibrated == null || rates == null) {
            return null;
        }
        Describe describe = new Describe(
                major,
                minor,
                natural(header.getOrDefault("caps", "0"), Wire.U16_MAX),
                number(header.get("tickhz"), 1, Wire.U32_MAX),
                number(header.get("ratemhz"), 1, Wire.U32_MAX),
                header.getOrDefault("id", ""),
                header.getOrDefault("model", ""),
                header.getOrDefault("firmware", ""),
                rates,
                calibrated);
        return DescribeRules.problem(describe) == null ? describe : null;
    }

    /** Reads the remaining {@code key=value} fields; a field without a sign or a key twice is malformed. */
    private static Map<String, String> pairs(LineFields f) {
        Map<String, String> pairs = new HashMap<>();
        Set<String> keys = new HashSet<>();
        while (f.ok() && f.next()) {
            String field = f.text();
            int sign = field.indexOf('=');
            if (sign < 1 || field.indexOf('=', sign + 1) >= 0 || !keys.add(field.substring(0, sign))) {
                f.fail();
            } else if (sign + 1 < field.length()) { // An empty value is as if the key were absent.
                pairs.put(field.substring(0, sign), field.substring(sign + 1));
            }
        }
        return pairs;
    }

    private static @Nullable List<Long> rates(@Nullable String value) {
        List<Long> rates = new ArrayList<>();
        if (value != null) {
            for (String part : value.split("/", -1)) {
                long rate = number(part, 1, Wire.U32_MAX);
                if (rate == ABSENT) {
                    return null;
                }
                rates.add(rate);
            }
        }
        return rates;
    }

    /** Returns the integer, or -1 where the text is not one between 0 and a bound. */
    private static int natural(@Nullable String value, int max) {
        return (int) Math.max(number(value, 0, max), -1);
    }

    /** Returns the integer, or {@link #ABSENT}, which no rule allows, where the text is not one within its bounds. */
    private static long number(@Nullable String value, long min, long max) {
        if (value == null || !INTEGER.matcher(value).matches()) {
            return ABSENT;
        }
        long number = Long.parseLong(value);
        return number >= min && number <= max ? number : ABSENT;
    }

    /** Returns the number, or NaN where the text is not a decimal number or too large for binary32. */
    private static float decimal(String value) {
        if (!NUMBER.matcher(value).matches()) {
            return Float.NaN;
        }
        return Float.parseFloat(value) + 0.0f;
    }
}
