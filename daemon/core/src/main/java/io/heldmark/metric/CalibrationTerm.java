package io.heldmark.metric;

import io.heldmark.model.CellCalibration;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.ZeroReference;

/**
 * What the calibration contributes to the uncertainty of a force.
 *
 * <p><b>Relative form.</b> u = uRel |F|: a straight line through the session zero has no other uncertainty than its slope's.
 *
 * <p><b>Coefficients.</b> With covariance V of the coefficients of c0 + c1 y + c2 y^2 ... (see {@link CellCalibration}), level
 * y = F + zero and z = the zero's own level, u^2 = g' V g + (uReference F)^2 with g_k = y^k - z^k, or g_k = y^k where no
 * session zero was taken and the calibration's own zero counts. Of a straight line the session zero leaves u(c1) |F| alone.
 *
 * <p><b>Beyond the calibrated range R.</b> For a load L over R, in squares beside the above,
 *
 * <pre>u = 4 max(uRel, 0.001) L (L - R) / R</pre>
 *
 * A curvature that vanishes at 0 and at R and is as large in the middle as the calibration allows (uRel R, at least 0.1 % of R)
 * grows to this when it is continued. "Calibrated to 400 N, read 612 N" with uRel = 0.2 % adds 2.6 N to 1.2 N. The rule and
 * the 0.1 % (interpolation error of class 1 in ISO 376:2011, secondary source) are the project's, no published source.
 *
 * <p><b>Source.</b> Covariance of a calibration curve: GUM (JCGM 100:2008) H.3 and 5.2.2.
 */
final class CalibrationTerm {
    private static final double LEAST_CURVATURE = 0.001;

    private final double relativeU;
    private final CellCalibration cell;
    private final ZeroReference zero;
    private final int coefficients;

    CalibrationTerm(ChannelInfo channel, ZeroReference zero) {
        relativeU = channel.calibrationRelativeU();
        cell = channel.cell();
        this.zero = zero;
        coefficients = (int) Math.round(Math.sqrt(cell.covariance().size()));
    }

    /** Tells whether anything is known of the calibration's uncertainty. */
    boolean known() {
        return relativeU >= 0 || coefficients > 0;
    }

    /** Returns the standard uncertainty of a force relative to the zero in force. */
    double of(double forceN) {
        double from = zero.taken() ? zero.levelN() : Double.NaN;
        return between(forceN, level(forceN), from);
    }

    /** Returns the standard uncertainty of a difference of two forces. */
    double ofDifference(double toN, double fromN) {
        return between(toN - fromN, level(toN), level(fromN));
    }

    /** Returns the uncertainty that is added beyond the calibrated range; 0 within it or where it is not known. */
    double beyondRange(double forceN) {
        double loadN = Math.abs(level(forceN));
        double rangeN = cell.calibratedToN();
        if (!(rangeN > 0 && loadN > rangeN)) {
            return 0;
        }
        double curvature = Math.max(relativeU >= 0 ? relativeU : 0, LEAST_CURVATURE);
        return 4 * curvature * loadN * (loadN - rangeN) / rangeN;
    }

    private double level(double forceN) {
        return forceN + zero.levelN();
    }

    /** Uncertainty of the curve's rise from one level to another; from NaN: of its value at the upper one. */
    private double between(double riseN, double toN, double fromN) {
        if (coefficients == 0) {
            return relativeU >= 0 ? relativeU * Math.abs(riseN) : 0;
        }
        double variance = cell.referenceRelativeU() * riseN * (cell.referenceRelativeU() * riseN);
        for (int i = 0; i < coefficients; i++) {
            for (int j = 0; j < coefficients; j++) {
                variance +=
                        cell.covariance().get(i * coefficients + j) * gradient(i, toN, fromN) * gradient(j, toN, fromN);
            }
        }
        return Math.sqrt(Math.max(0, variance));
    }

    private static double gradient(int power, double toN, double fromN) {
        return power(toN, power) - (Double.isNaN(fromN) ? 0 : power(fromN, power));
    }

    private static double power(double base, int exponent) {
        double product = 1;
        for (int k = 0; k < exponent; k++) {
            product *= base;
        }
        return product;
    }
}
