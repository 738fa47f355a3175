package io.heldmark.cli;

import io.heldmark.model.Quantity;
import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;

/**
 * A quantity for people: {@code 512.3(1.1) N}, the standard uncertainty in brackets to two digits and the value to the same
 * place (GUM, JCGM 100:2008, 7.2.2 and 7.2.6).
 */
final class FigureText {
    private static final int SHOWN_DIGITS = 6;

    private FigureText() {}

    static String of(Quantity q) {
        String unit = q.unit().isEmpty() ? "" : " " + q.unit();
        if (!(q.standardUncertainty() > 0)) {
            return plain(BigDecimal.valueOf(q.value()).round(new MathContext(SHOWN_DIGITS))) + unit;
        }
        BigDecimal u = BigDecimal.valueOf(q.standardUncertainty()).round(new MathContext(2, RoundingMode.HALF_UP));
        int decimals = Math.max(0, u.scale() + 2 - u.precision());
        u = u.setScale(decimals, RoundingMode.HALF_UP);
        BigDecimal value = BigDecimal.valueOf(q.value()).setScale(decimals, RoundingMode.HALF_UP);
        // Under 1 the brackets count units of the last digit, above they are written out.
        boolean whole = decimals == 0 || u.compareTo(BigDecimal.ONE) >= 0;
        String bracket = whole ? plain(u) : u.unscaledValue().toString();
        return plain(value) + "(" + bracket + ")" + unit;
    }

    private static String plain(BigDecimal value) {
        return value.toPlainString();
    }
}
