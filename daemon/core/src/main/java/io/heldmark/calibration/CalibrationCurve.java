package io.heldmark.calibration;

import io.heldmark.model.CellCalibration;
import java.util.ArrayList;
import java.util.List;

/**
 * A fitted calibration used the other way round: counts to newtons, and what the fit makes uncertain of that.
 *
 * <p><b>Formulas.</b> counts = f(F); F is the root of f(F) = counts on the branch of the loads. A reading of standard deviation
 * sd and the curve with variance s^2 h(F) give (GUM 5.1.2, first order)
 *
 * <pre>u(F) = sqrt(s^2 h(F) + sd^2) / |f'(F)|</pre>
 *
 * <p><b>Errors.</b> Counts beyond the turning point of a parabola have no force: NaN.
 */
public final class CalibrationCurve {
    private final PolynomialFit fit;

    /** Takes a fit of counts over newtons. */
    public CalibrationCurve(PolynomialFit fit) {
        this.fit = fit;
    }

    /** Returns the fit of counts over newtons. */
    public PolynomialFit fit() {
        return fit;
    }

    /** Returns the counts that a force gives. */
    public double counts(double forceN) {
        return fit.valueAt(forceN);
    }

    /** Returns the force of a reading; NaN where the curve never gets there. */
    public double forceN(double counts) {
        return fit.inverse(counts);
    }

    /** Returns the size of a count at a force, in newtons. */
    public double newtonsPerCount(double forceN) {
        return 1 / Math.abs(fit.slopeAt(forceN));
    }

    /**
     * Returns the standard uncertainty of the curve at a force, in newtons.
     *
     * @param pointSd standard deviation of the points that were fitted, in counts.
     */
    public double curveUN(double forceN, double pointSd) {
        return pointSd * Math.sqrt(fit.leverageAt(forceN)) * newtonsPerCount(forceN);
    }

    /**
     * Returns the standard uncertainty of the force of a reading from the fit and from the reading's own scatter, without that
     * of the applied loads, in newtons.
     *
     * @param readings how many readings were averaged.
     */
    public double standardUncertaintyN(double forceN, int readings) {
        double sd = fit.residualSd();
        double curve = curveUN(forceN, sd);
        double own = sd / Math.sqrt(readings) * newtonsPerCount(forceN);
        return Math.sqrt(curve * curve + own * own);
    }

    /** Tells whether the curve turns back somewhere between two forces. */
    boolean turnsBetween(double leastN, double mostN) {
        return !(fit.slopeAt(leastN) * fit.slopeAt(mostN) > 0);
    }

    /**
     * Returns what the signal path needs to know of this calibration: the covariance of the true force as a polynomial of the
     * nominal one. First order: F = y - (d0 + d1 y + d2 y^2) / b1 for errors d of the coefficients, so that the covariance is
     * that of the fit over b1^2; exact for a straight line, and for a parabola as far as its slope is that at zero.
     *
     * @param calibratedToN highest load.
     * @param reference what the loads are called.
     * @param referenceRelativeU relative standard uncertainty of the loads; 0 where unknown.
     */
    public CellCalibration cell(double calibratedToN, String reference, double referenceRelativeU) {
        double slope = fit.slopeAt(0);
        List<Double> covariance = new ArrayList<>();
        for (double[] row : fit.covariance()) {
            for (double element : row) {
                covariance.add(element / (slope * slope));
            }
        }
        return new CellCalibration(calibratedToN, Double.NaN, referenceRelativeU, reference, covariance);
    }
}
