package io.heldmark.calibration;

import java.util.ArrayList;
import java.util.List;
import java.util.function.DoubleUnaryOperator;

/**
 * Whether a cell still shows what its calibration says: readings unloaded and under a known load, against the saved slope.
 *
 * <p><b>Formula.</b> With the mean x0 of the unloaded readings and the mean x of those at a load F: shown = (x - x0) slope, d = shown -
 * F. The cell left its limits where |d| &gt; 2 u, u^2 = (uSlope F)^2 + (uLoad F)^2 + resolution: both uncertainties relative, one count
 * rectangular (GUM F.2.2.1) twice. That is |En| &gt; 1 of ISO/IEC 17043 (from memory) with k = 2.
 *
 * <p><b>What it cannot see.</b> The same masses as in the calibration hide their own error; one load does not show a bend.
 *
 * @param appliedN the known load.
 * @param shownN what the cell shows of it by the calibration, above the unloaded cell.
 * @param standardUncertaintyN standard uncertainty of the difference of both.
 */
public record QuickCheck(double appliedN, double shownN, double standardUncertaintyN) {
    private static final double K = 2;

    /**
     * Checks every load of a table.
     *
     * @param readings of the unloaded cell and of at least one load.
     * @param newtonPerCount slope of the calibration.
     * @param slopeRelativeU its relative standard uncertainty.
     * @param loadRelativeU that of the loads of this check; NaN where nobody stated it, which counts as 0.
     * @throws CalibrationException if there is no reading at zero load, or none else.
     */
    public static List<QuickCheck> of(
            List<CalibrationReading> readings, double newtonPerCount, double slopeRelativeU, double loadRelativeU)
            throws CalibrationException {
        return of(readings, counts -> counts * newtonPerCount, newtonPerCount, slopeRelativeU, loadRelativeU);
    }

    /**
     * The same for a curve that need not be straight: shown = F(x) - F(x0).
     *
     * @param forceN newtons of counts.
     */
    public static List<QuickCheck> of(
            List<CalibrationReading> readings,
            DoubleUnaryOperator forceN,
            double newtonPerCount,
            double slopeRelativeU,
            double loadRelativeU)
            throws CalibrationException {
        List<Double> zeros = countsAt(readings, 0);
        List<Double> loadsN = readings.stream()
                .map(CalibrationReading::appliedN)
                .filter(load -> load != 0)
                .distinct()
                .sorted()
                .toList();
        if (zeros.isEmpty() || loadsN.isEmpty()) {
            throw new CalibrationException(
                    "a check needs a reading of the unloaded cell (applied 0) and one of a known load");
        }
        double loadU = Double.isNaN(loadRelativeU) ? 0 : loadRelativeU;
        double countU = newtonPerCount * newtonPerCount / 6;
        List<QuickCheck> checks = new ArrayList<>();
        for (double loadN : loadsN) {
            double shownN =
                    forceN.applyAsDouble(Run.mean(countsAt(readings, loadN))) - forceN.applyAsDouble(Run.mean(zeros));
            double share = slopeRelativeU * slopeRelativeU + loadU * loadU;
            checks.add(new QuickCheck(loadN, shownN, Math.sqrt(share * loadN * loadN + countU)));
        }
        return checks;
    }

    /**
     * Returns the same for readings that scatter.
     *
     * @param scatterN standard uncertainty of the difference of both readings, in newtons.
     */
    public QuickCheck scattered(double scatterN) {
        return new QuickCheck(appliedN, shownN, StrictMath.hypot(standardUncertaintyN, scatterN));
    }

    private static List<Double> countsAt(List<CalibrationReading> readings, double loadN) {
        return readings.stream()
                .filter(r -> r.appliedN() == loadN)
                .map(CalibrationReading::counts)
                .toList();
    }

    /** Returns shown minus applied. */
    public double differenceN() {
        return shownN - appliedN;
    }

    /** Returns the largest difference that both uncertainties explain. */
    public double limitN() {
        return K * standardUncertaintyN;
    }

    /** Tells whether the cell is where its calibration left it. */
    public boolean holds() {
        return Math.abs(differenceN()) <= limitN();
    }
}
