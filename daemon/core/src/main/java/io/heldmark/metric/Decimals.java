package io.heldmark.metric;

import java.util.Locale;

/**
 * Writes a number with a fixed number of decimals as {@code String.format(Locale.ROOT, "%.2f", ...)} does, to the letter, but
 * without its parser: reasons are written for every contraction, and most are never read.
 *
 * <p>Where the next digits are so near to a half that their rounding is not plain, and for huge numbers and none, that method
 * itself is asked.
 */
final class Decimals {
    private static final double[] POWERS = {1, 10, 100};
    private static final double PLAIN_BELOW = 1e9; // Errors of the product are below 1e-6 there.
    private static final double NEAR_HALF = 1e-6;

    private Decimals() {}

    /** Returns the text of a number with 0 to 2 decimals. */
    static String of(double value, int places) {
        double scaled = Math.abs(value) * POWERS[places];
        double rest = scaled - Math.floor(scaled);
        if (!(scaled < PLAIN_BELOW) || Math.abs(rest - 0.5) < NEAR_HALF) {
            return String.format(Locale.ROOT, "%." + places + "f", value);
        }
        long digits = (long) scaled + (rest > 0.5 ? 1 : 0);
        StringBuilder text = new StringBuilder(16);
        if (Double.doubleToRawLongBits(value) < 0) {
            text.append('-');
        }
        long unit = (long) POWERS[places];
        text.append(digits / unit);
        if (places > 0) {
            text.append('.');
            for (long place = unit / 10; place > 0; place /= 10) {
                text.append((char) ('0' + digits / place % 10));
            }
        }
        return text.toString();
    }
}
