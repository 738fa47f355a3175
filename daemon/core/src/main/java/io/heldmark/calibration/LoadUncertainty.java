package io.heldmark.calibration;

import org.apache.commons.statistics.distribution.TDistribution;

/**
 * The uncertainty of a force that one later reading of the cell shows, at one load.
 *
 * <p><b>Parts,</b> independent, added in squares: the fitted curve, the reading's own scatter, what differs between mountings
 * ({@link Scatter}), and the applied loads, the same share of every load.
 *
 * <p><b>95 % interval.</b> t quantile of the effective degrees of freedom by Welch and Satterthwaite (GUM G.4.1), the curve and
 * the reading as one part because they have one and the same standard deviation; the loads with infinitely many.
 *
 * <p><b>Not in it:</b> creep, temperature, direction of the pull, ageing; and the mean of several later readings is better.
 *
 * @param curveN part of the fitted curve, in newtons.
 * @param readingN part of one reading.
 * @param mountingN part of what differs between mountings.
 * @param loadsN part of the applied loads.
 * @param standardUncertaintyN all together, k = 1.
 * @param degreesOfFreedom effective ones.
 * @param coverageFactor t quantile of 95 %.
 */
public record LoadUncertainty(
        double curveN,
        double readingN,
        double mountingN,
        double loadsN,
        double standardUncertaintyN,
        double degreesOfFreedom,
        double coverageFactor) {
    private static final double UPPER = 0.975;
    private static final double INFINITE = 1e6;

    /** Returns the half width of the 95 % interval, in newtons. */
    public double expandedN() {
        return coverageFactor * standardUncertaintyN;
    }

    static LoadUncertainty at(double loadN, CalibrationCurve curve, Scatter scatter, double relativeU) {
        double perCount = curve.newtonsPerCount(loadN);
        double ownSd = scatter.ownSd(loadN);
        boolean own = ownSd > scatter.readingSd();
        double curveN = curve.curveUN(loadN, scatter.readingSd());
        double readingN = (own ? ownSd : scatter.readingSd()) * perCount;
        double mountingN = scatter.nextMounting(loadN) * perCount;
        double loadsN = relativeU * Math.abs(loadN);
        double fitted = own ? square(curveN) : square(curveN) + square(readingN);
        double separate = own ? square(readingN) : 0;
        double all = fitted + separate + square(mountingN) + square(loadsN);
        double sum = square(fitted) / scatter.degreesOfFreedom();
        sum += own ? square(separate) / scatter.readingsAt(loadN) : 0;
        sum += mountingN > 0 ? square(square(mountingN)) / scatter.mountingDegreesOfFreedom() : 0;
        double degrees = sum > 0 ? Math.min(INFINITE, square(all) / sum) : INFINITE;
        double k = TDistribution.of(degrees).inverseCumulativeProbability(UPPER);
        return new LoadUncertainty(curveN, readingN, mountingN, loadsN, Math.sqrt(all), degrees, k);
    }

    private static double square(double x) {
        return x * x;
    }
}
