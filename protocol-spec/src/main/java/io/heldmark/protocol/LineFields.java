package io.heldmark.protocol;

import java.nio.charset.StandardCharsets;

/**
 * Walks over the comma-separated fields of one line without copying. A field that is missing or breaks its form makes
 * {@link #ok()} false for good, so a line is read to its end and judged once.
 */
final class LineFields {
    private static final long TOO_LARGE = 1L << 40; // Above every 32-bit range, far below an overflow of long.

    private byte[] bytes = new byte[0];
    private int end;
    private int start;
    private int stop;
    private boolean ok;

    /** Starts at the first field of {@code bytes[0..length)}. */
    void wrap(byte[] line, int length) {
        bytes = line;
        end = length;
        stop = -1;
        start = 0;
        ok = true;
        next();
    }

    /** Moves to the next field and returns whether there is one. */
    boolean next() {
        if (stop >= end) {
            return false;
        }
        start = stop + 1;
        stop = start;
        while (stop < end && bytes[stop] != ',') {
            stop++;
        }
        return true;
    }

    /** Moves to the next field, which must be there. */
    LineFields need() {
        ok &= next();
        return this;
    }

    boolean ok() {
        return ok;
    }

    void fail() {
        ok = false;
    }

    int length() {
        return stop - start;
    }

    byte first() {
        return bytes[start];
    }

    boolean isEmpty() {
        return start == stop;
    }

    /** Returns the present field as an integer between two bounds; 0 and not ok otherwise. */
    long integer(long min, long max) {
        boolean negative = !isEmpty() && bytes[start] == '-';
        long value = digits(negative ? start + 1 : start, stop);
        value = negative ? -value : value;
        if (ok && value >= min && value <= max) {
            return value;
        }
        ok = false;
        return 0;
    }

    /** Returns the present field, a number with at most one decimal, in tenths. */
    int tenths() {
        int point = stop - 2;
        if (point <= start || bytes[point] != '.') {
            return (int) integer(-3276, 3276) * 10;
        }
        boolean negative = bytes[start] == '-';
        long value = digits(negative ? start + 1 : start, point) * 10 + digits(point + 1, stop);
        ok &= value <= Short.MAX_VALUE;
        return (int) (negative ? -value : value);
    }

    /** Returns the present field's bytes from pairs of upper-case hex digits. */
    byte[] hex() {
        byte[] value = new byte[length() / 2];
        ok &= length() % 2 == 0 && value.length <= Wire.MAX_HEX_PAIRS;
        for (int i = 0; ok && i < value.length; i++) {
            int high = hexDigit(bytes[start + 2 * i]);
            int low = hexDigit(bytes[start + 2 * i + 1]);
            ok = high >= 0 && low >= 0;
            value[i] = (byte) ((high << 4) | low);
        }
        return value;
    }

    String text() {
        return new String(bytes, start, length(), StandardCharsets.US_ASCII);
    }

    /** Returns the value of an upper-case hex digit, or -1. */
    static int hexDigit(byte digit) {
        if (digit >= '0' && digit <= '9') {
            return digit - '0';
        }
        return digit >= 'A' && digit <= 'F' ? digit - 'A' + 10 : -1;
    }

    private long digits(int from, int to) {
        long value = 0;
        ok &= from < to;
        for (int i = from; i < to; i++) {
            int digit = bytes[i] - '0';
            ok &= digit >= 0 && digit <= 9 && value < TOO_LARGE;
            value = ok ? value * 10 + digit : 0;
        }
        return value;
    }
}
