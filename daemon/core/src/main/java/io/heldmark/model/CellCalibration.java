package io.heldmark.model;

import java.util.List;

/**
 * What is known of a channel's calibration beyond its slope and the slope's relative uncertainty.
 *
 * <p><b>Covariance.</b> The true force is a polynomial of the nominal one y (newtons by the calibration):
 * c0 + c1 y + c2 y^2 ..., with the estimates 0, 1, 0, ...; the matrix is that of the coefficients' estimates, row by row, its
 * element i, j in N^(2 - i - j). A straight line fitted in counts, b0 + b1 x, has c0 = b0's and c1 = b1's over b1.
 *
 * @param calibratedToN highest force of the calibration, in newtons; NaN where unknown.
 * @param driftLimitNPerHour most that the zero drifts in an hour, in newtons; NaN where unknown.
 * @param referenceRelativeU relative standard uncertainty of the reference (mass, transfer standard) alone, which all cells
 *     calibrated with it have in common; 0 where unknown.
 * @param reference what the reference is called; empty where unknown.
 * @param covariance (n + 1)^2 elements for a polynomial of degree n; empty where the relative uncertainty of the slope is all
 *     that is known.
 */
public record CellCalibration(
        double calibratedToN,
        double driftLimitNPerHour,
        double referenceRelativeU,
        String reference,
        List<Double> covariance) {
    /** Nothing is known. */
    public static final CellCalibration UNKNOWN = new CellCalibration(Double.NaN, Double.NaN, 0, "", List.of());

    /** Copies the list and checks its size. */
    public CellCalibration {
        covariance = List.copyOf(covariance);
        int size = (int) Math.round(Math.sqrt(covariance.size()));
        if (size * size != covariance.size()) {
            throw new IllegalArgumentException("covariance must be square: elements=" + covariance.size());
        }
        if (!(referenceRelativeU >= 0 && referenceRelativeU < 1)) {
            throw new IllegalArgumentException("referenceRelativeU is 0 to 1: " + referenceRelativeU);
        }
    }

    /**
     * Returns the covariance of a straight line from standard uncertainties and correlation, as calibration certificates
     * state them.
     *
     * @param zeroU standard uncertainty of the force at the calibration's zero, in newtons.
     * @param slopeRelativeU relative standard uncertainty of the slope.
     * @param correlation of both, -1 to 1.
     */
    public static List<Double> lineCovariance(double zeroU, double slopeRelativeU, double correlation) {
        double mixed = correlation * zeroU * slopeRelativeU;
        return List.of(zeroU * zeroU, mixed, mixed, slopeRelativeU * slopeRelativeU);
    }
}
