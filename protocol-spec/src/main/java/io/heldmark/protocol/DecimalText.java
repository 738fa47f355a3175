package io.heldmark.protocol;

import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;

/**
 * The decimal text with the fewest digits that gives a binary32 back, in the form of C's {@code %.9g}: an exponent below
 * 1e-4 and from 1e9 on. {@link Float#toString} is not used because it differs between Java releases.
 */
final class DecimalText {
    private static final int MAX_DIGITS = 9; // Always enough for binary32 (IEEE 754-2019, 5.12.2).

    private DecimalText() {}

    static String of(float value) {
        BigDecimal exact = new BigDecimal(value);
        for (int digits = 1; digits < MAX_DIGITS; digits++) {
            BigDecimal rounded = exact.round(new MathContext(digits, RoundingMode.HALF_EVEN));
            if (Float.parseFloat(rounded.toString()) == value) {
                return format(rounded);
            }
        }
        return format(exact.round(new MathContext(MAX_DIGITS, RoundingMode.HALF_EVEN)));
    }

    private static String format(BigDecimal value) {
        BigDecimal plain = value.stripTrailingZeros();
        int exponent = plain.precision() - plain.scale() - 1;
        if (plain.signum() == 0 || (exponent >= -4 && exponent < MAX_DIGITS)) {
            return plain.toPlainString();
        }
        String mantissa = plain.movePointLeft(exponent).toPlainString();
        String power = (Math.abs(exponent) < 10 ? "0" : "") + Math.abs(exponent);
        return mantissa + "e" + (exponent < 0 ? "-" : "+") + power;
    }
}
