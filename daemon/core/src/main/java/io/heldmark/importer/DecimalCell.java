package io.heldmark.importer;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.nio.charset.StandardCharsets;

/**
 * One cell of a text file as a decimal number; reused for every cell.
 *
 * <p><b>Grammar.</b> Blanks, an optional sign, digits with an optional point, an optional exponent, blanks; quotation marks
 * around it are allowed. Nothing else is a number: no NaN, no infinity, no decimal comma, no thousands separator.
 *
 * <p><b>Exactness.</b> Values are the doubles nearest to the decimal. Up to 2^53 and 22 decimals one division of two exact
 * doubles gives that (Clinger 1990, doi:10.1145/93542.93557); what is longer goes through the Java library.
 */
final class DecimalCell {
    /** What a cell holds. */
    enum Kind {
        /** Nothing: a sample is missing. */
        EMPTY,
        /** A finite number. */
        NUMBER,
        /** Something else. */
        OTHER
    }

    private static final int DIGITS_MAX = 18;
    private static final int CELL_BYTES_MAX = 64;
    private static final int EXPONENT_MAX = 400;
    private static final long EXACT_MAX = 1L << 53;
    private static final long[] TENS = tens();
    private static final double[] EXACT_TENS = exactTens();

    private Kind kind = Kind.EMPTY;
    private boolean plain;
    private long mantissa;
    private int decimals;
    private double value;
    private BigDecimal exact = BigDecimal.ZERO;

    /**
     * Takes the cell that begins at an index and ends before the next comma.
     *
     * @param b the bytes.
     * @param from where it begins.
     * @param end where the line ends.
     * @return the index of the comma, or {@code end}.
     */
    int take(byte[] b, int from, int end) {
        int i = skipBlanks(b, from, end);
        boolean negative = i < end && b[i] == '-';
        if (negative || (i < end && b[i] == '+')) {
            i++;
        }
        int digits = 0;
        long read = 0;
        int point = -1;
        while (i < end) {
            int d = b[i] - '0';
            if (d >= 0 && d <= 9) {
                read = read * 10 + d;
                digits++;
            } else if (b[i] == '.' && point < 0) {
                point = digits;
            } else {
                break;
            }
            i++;
        }
        i = skipBlanks(b, i, end);
        if (digits == 0 || digits > DIGITS_MAX || (i < end && b[i] != ',')) {
            return takeOther(b, from, end);
        }
        kind = Kind.NUMBER;
        plain = true;
        mantissa = negative ? -read : read;
        decimals = point < 0 ? 0 : digits - point;
        value = read <= EXACT_MAX
                ? (negative ? -(double) read : (double) read) / EXACT_TENS[decimals]
                : Double.parseDouble(text(b, from, i));
        return i;
    }

    Kind kind() {
        return kind;
    }

    /** Returns the number. */
    double value() {
        return value;
    }

    /** Returns digits behind the point, as written; -1 for a number with an exponent or of more than 18 digits. */
    int decimals() {
        return plain ? decimals : -1;
    }

    /** Returns the number times 10^9, rounded; {@link Long#MIN_VALUE} where it does not fit. */
    long billionths() {
        if (!plain) {
            BigDecimal ns = exact.movePointRight(9).setScale(0, RoundingMode.HALF_EVEN);
            return ns.abs().compareTo(BigDecimal.valueOf(Long.MAX_VALUE)) < 0 ? ns.longValue() : Long.MIN_VALUE;
        }
        if (decimals > 9) {
            long unit = TENS[decimals - 9];
            return Math.floorDiv(mantissa + unit / 2, unit);
        }
        long limit = Long.MAX_VALUE / TENS[9 - decimals];
        return Math.abs(mantissa) <= limit ? mantissa * TENS[9 - decimals] : Long.MIN_VALUE;
    }

    private int takeOther(byte[] b, int from, int end) {
        int comma = from;
        while (comma < end && b[comma] != ',') {
            comma++;
        }
        String text = text(b, from, comma);
        if (text.length() >= 2 && text.startsWith("\"") && text.endsWith("\"")) {
            text = text.substring(1, text.length() - 1).strip();
        }
        plain = false;
        kind = text.isEmpty() ? Kind.EMPTY : isNumber(text) ? Kind.NUMBER : Kind.OTHER;
        return comma;
    }

    private boolean isNumber(String text) {
        if (text.length() > CELL_BYTES_MAX) {
            return false;
        }
        try {
            exact = new BigDecimal(text);
        } catch (NumberFormatException e) {
            return false;
        }
        value = exact.doubleValue();
        return Math.abs(exact.scale()) <= EXPONENT_MAX && Math.abs(value) <= Double.MAX_VALUE;
    }

    private static int skipBlanks(byte[] b, int from, int end) {
        int i = from;
        while (i < end && (b[i] == ' ' || b[i] == '\t')) {
            i++;
        }
        return i;
    }

    private static String text(byte[] b, int from, int to) {
        return new String(b, from, to - from, StandardCharsets.UTF_8).strip();
    }

    private static long[] tens() {
        long[] powers = new long[DIGITS_MAX + 1];
        powers[0] = 1;
        for (int i = 1; i < powers.length; i++) {
            powers[i] = powers[i - 1] * 10;
        }
        return powers;
    }

    private static double[] exactTens() {
        double[] powers = new double[DIGITS_MAX + 1];
        for (int i = 0; i < powers.length; i++) {
            powers[i] = TENS[i]; // Powers of ten up to 10^22 are doubles without error.
        }
        return powers;
    }
}
