package io.heldmark.decode;

/**
 * Reads the numbers of one line: an optional sign, digits, optionally a point and digits.
 *
 * <p>Digits are kept as a whole number and a count of decimals, so that a decimal fraction is not rounded twice. At most
 * {@value #MOST_DIGITS} digits; more, an exponent, or anything else make the line unusable. Spaces around a number are ignored;
 * with a space as delimiter several stand for one.
 */
final class NumberLine {
    static final double[] POWERS = {1, 10, 100, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15};

    /** Digits that a double holds without rounding. */
    private static final int MOST_DIGITS = 15;

    private final NumberLayout layout;
    private final int channels;
    private final long[] digits = new long[NumberLayout.MOST_CHANNELS];
    private final int[] decimalsOf = new int[NumberLayout.MOST_CHANNELS];
    private int filled;

    NumberLine(NumberLayout layout) {
        this.layout = layout;
        channels = (int)
                layout.columns().stream().filter(NumberLayout.Column::used).count();
    }

    int channels() {
        return channels;
    }

    /** Reads a line; returns whether it has exactly the declared columns. */
    boolean read(byte[] text, int length) {
        filled = 0;
        int column = 0;
        int at = skipSpaces(text, 0, length);
        int end = length;
        while (end > at && (text[end - 1] == ' ' || text[end - 1] == layout.delimiter())) {
            end--; // A delimiter behind the last column is common.
        }
        while (at <= end) {
            int stop = at;
            while (stop < end && text[stop] != layout.delimiter()) {
                stop++;
            }
            if (column == layout.columns().size()
                    || (layout.columns().get(column).used() && !number(text, at, stop))) {
                return false;
            }
            column++;
            at = stop + 1;
            if (layout.delimiter() == ' ') {
                at = Math.max(at, skipSpaces(text, at, end));
            }
        }
        return column == layout.columns().size();
    }

    private static int skipSpaces(byte[] text, int from, int end) {
        int at = from;
        while (at < end && text[at] == ' ') {
            at++;
        }
        return at;
    }

    private boolean number(byte[] text, int from, int to) {
        int at = skipSpaces(text, from, to);
        int end = to;
        while (end > at && text[end - 1] == ' ') {
            end--;
        }
        boolean negative = at < end && text[at] == '-';
        at += negative || (at < end && text[at] == '+') ? 1 : 0;
        long value = 0;
        int seen = 0;
        int decimals = -1;
        for (; at < end; at++) {
            byte b = text[at];
            if (b == '.' && decimals < 0) {
                decimals = 0;
            } else if (b >= '0' && b <= '9' && seen < MOST_DIGITS) {
                value = 10 * value + (b - '0');
                seen++;
                decimals += decimals >= 0 ? 1 : 0;
            } else {
                return false;
            }
        }
        digits[filled] = negative ? -value : value;
        decimalsOf[filled] = Math.max(0, decimals);
        filled++;
        return seen > 0;
    }

    /** Returns the most decimals of any number of the line. */
    int decimals() {
        int most = 0;
        for (int i = 0; i < channels; i++) {
            most = Math.max(most, decimalsOf[i]);
        }
        return most;
    }

    /** Puts the numbers as counts of this many decimals; returns false where one is beyond 32 bits. */
    boolean scaleTo(int decimals, int[] counts) {
        for (int i = 0; i < channels; i++) {
            int more = decimals - decimalsOf[i];
            double scaled = more >= 0 ? digits[i] * POWERS[more] : Math.rint(digits[i] / POWERS[-more]);
            if (!(Math.abs(scaled) <= Integer.MAX_VALUE)) {
                return false;
            }
            counts[i] = (int) scaled;
        }
        return true;
    }
}
