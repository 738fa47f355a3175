package io.heldmark.metric;

import io.heldmark.model.MetricValue;
import io.heldmark.model.Quantity;

/**
 * Signed asymmetry of two limbs.
 *
 * <p><b>Formula.</b> A = 100 ln(L/R), in per cent of the log ratio; positive: left is stronger. It adds over steps, and
 * swapping the limbs only turns its sign: no limb is the reference.
 *
 * <p><b>Uncertainty.</b> The device's alone, to first order: 100 times the root of the sum of squares of both sides' relative
 * parts, with what both calibrations have in common left out, or the mismatch of the cells in their place where they were
 * compared ({@link LogRatio}). Everything else of both limbs is taken as uncorrelated. The repeat error of people is not in it.
 *
 * <p><b>Degenerate.</b> A limb without a peak, or a force not above 3 of its standard uncertainties (the logarithm then
 * has no meaning, nor has the first-order formula): not computed.
 *
 * <p><b>Source.</b> Log ratio as a symmetry index: Plotnik et al. 2005 (its magnitude; from memory); reference-limb problems of
 * the others: Parkinson et al. 2021, J Sports Sci Med 20:594-617. Propagation: GUM (JCGM 100:2008) 5.1.2, 5.2.2.
 */
public final class LogAsymmetry implements PairMetric {
    private static final double LEAST_RATIO = 3;

    @Override
    public String id() {
        return "asymmetry.log";
    }

    @Override
    public String unit() {
        return "%";
    }

    @Override
    public String formula() {
        return "100 · ln(left peak force / right peak force); positive: left is stronger";
    }

    @Override
    public Metric.Description describe() {
        return new Metric.Description(
                "Asymmetry",
                formula() + ". Per pair of contractions that belong together.",
                "A limb has no peak force, or its force is not above 3 of its standard uncertainties.",
                "Both peak forces' relative uncertainties, root sum of squares; what both calibrations are known to have in"
                        + " common (one reference) is left out. Where the cells were compared, their mismatch stands for both"
                        + " calibrations.",
                "Log ratio: Plotnik et al. 2005 (from memory); on reference limbs: Parkinson et al. 2021, J Sports Sci Med"
                        + " 20:594-617.");
    }

    @Override
    public MetricValue compute(MetricValue left, MetricValue right, CellPair cells) {
        Quantity l = left.quantity();
        Quantity r = right.quantity();
        if (l == null || r == null) {
            return MetricValue.notComputed(id(), (l == null ? "left" : "right") + " limb: no peak force");
        }
        if (!tellable(l) || !tellable(r)) {
            return MetricValue.notComputed(id(), "a force is not far enough above zero for a ratio");
        }
        double ratio = 100 * (StrictMath.log(l.value()) - StrictMath.log(r.value()));
        return MetricValue.of(id(), ratio, LogRatio.budget(left, right, cells).scaled(100), unit());
    }

    private static boolean tellable(Quantity force) {
        return force.value() > LEAST_RATIO * force.standardUncertainty() && force.value() > 0;
    }
}
