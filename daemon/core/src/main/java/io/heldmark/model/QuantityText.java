package io.heldmark.model;

import java.math.BigDecimal;
import java.math.RoundingMode;

/**
 * How a measured value is written for people: {@code 512.3(1.1) N}.
 *
 * <p><b>Method.</b> The standard uncertainty is rounded to two significant digits, the value to the same decimal place;
 * both from their exact binary value, ties away from zero. At most {@value #DECIMALS_MAX} decimals are written; an
 * uncertainty below that is written as one unit of the last. A value that rounds to zero has no sign. Minus is U+2212; the
 * space before the unit does not break.
 *
 * <p><b>Source.</b> JCGM 100:2008, 7.2.6 (two digits) and 7.2.2, example 3 (the uncertainty in parentheses, in the unit of
 * the value); limit of decimals: our own rule. {@code viewer-web/vectors/rounding.json} holds the cases that every program
 * of the station passes.
 */
public final class QuantityText {
    private static final int DECIMALS_MAX = 9;
    private static final char MINUS = '\u2212';
    private static final char NO_BREAK_SPACE = '\u00a0';

    private QuantityText() {}

    /**
     * Returns the text of a quantity; without space and unit where the unit is empty.
     *
     * @throws IllegalArgumentException if its standard uncertainty is 0: no value is shown as if it were exact.
     */
    public static String of(Quantity quantity) {
        if (!(quantity.standardUncertainty() > 0)) {
            throw new IllegalArgumentException("standardUncertainty must be greater than 0: standardUncertainty="
                    + quantity.standardUncertainty());
        }
        BigDecimal exactU = new BigDecimal(quantity.standardUncertainty());
        int place = place(exactU);
        BigDecimal u = rounded(exactU, place);
        if (u.signum() == 0) {
            u = BigDecimal.ONE.scaleByPowerOfTen(place);
        }
        BigDecimal value = rounded(new BigDecimal(quantity.value()), place);
        int decimals = Math.max(0, -place);
        String sign = value.signum() < 0 ? String.valueOf(MINUS) : "";
        String unit = quantity.unit().isEmpty() ? "" : NO_BREAK_SPACE + quantity.unit();
        return sign + plain(value.abs(), decimals) + "(" + plain(u, decimals) + ")" + unit;
    }

    /** Returns the power of ten of the last digit that is written. */
    private static int place(BigDecimal exactU) {
        int place = leading(exactU) - 1;
        if (leading(rounded(exactU, place)) > leading(exactU)) {
            place++; // 0.0996 becomes 0.10, not 0.100
        }
        return Math.max(-DECIMALS_MAX, place);
    }

    /** Returns the power of ten of the first digit. */
    private static int leading(BigDecimal number) {
        return number.precision() - number.scale() - 1;
    }

    private static BigDecimal rounded(BigDecimal number, int place) {
        return number.setScale(-place, RoundingMode.HALF_UP);
    }

    private static String plain(BigDecimal number, int decimals) {
        return number.setScale(decimals, RoundingMode.UNNECESSARY).toPlainString();
    }
}
