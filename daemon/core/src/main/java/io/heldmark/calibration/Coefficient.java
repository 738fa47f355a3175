package io.heldmark.calibration;

/**
 * One coefficient of the fitted curve, counts over newtons.
 *
 * @param name b0, b1 or b2.
 * @param value in its unit.
 * @param standardError of the fit alone.
 * @param standardUncertainty with the uncertainty of the applied loads, which scales the loads and so divides b1, and b2 twice.
 * @param unit {@code count}, {@code count/N} or {@code count/N^2}.
 */
public record Coefficient(String name, double value, double standardError, double standardUncertainty, String unit) {
    private static final String[] UNITS = {"count", "count/N", "count/N^2"};

    static Coefficient of(PolynomialFit fit, int i, double relativeU) {
        double value = fit.coefficients()[i];
        double error = fit.standardError(i);
        double scaled = i * relativeU * value;
        return new Coefficient("b" + i, value, error, Math.sqrt(error * error + scaled * scaled), UNITS[i]);
    }
}
