package io.heldmark.calibration;

/**
 * What was found at one load; the formulas are in {@link LoadStatistics}.
 *
 * @param loadN the load, in newtons.
 * @param readings how many readings it has.
 * @param meanCounts their mean.
 * @param residualN mean distance of the readings from the curve, in newtons.
 * @param repeatability b', without taking the cell out.
 * @param reproducibility b, between mountings.
 * @param reversibility v, between going down and going up.
 * @param interpolationError fc, between readings and curve.
 * @param zeroError f0, between the zero after and before; the worst of the runs that hold this load.
 * @param uncertainty of the force that one later reading shows here.
 */
public record LoadResult(
        double loadN,
        int readings,
        double meanCounts,
        double residualN,
        Percent repeatability,
        Percent reproducibility,
        Percent reversibility,
        Percent interpolationError,
        Percent zeroError,
        LoadUncertainty uncertainty) {}
