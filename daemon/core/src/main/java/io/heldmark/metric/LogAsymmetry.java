package io.heldmark.metric;

import io.heldmark.model.MetricValue;
import io.heldmark.model.Quantity;

/**
 * Signed asymmetry of two limbs.
 *
 * <p><b>Formula.</b> A = 100 ln(L/R), in per cent of the log ratio; positive: left is stronger. It adds over steps, and
 * swapping the limbs only turns its sign: no limb is the reference.
 *
 * <p><b>Uncertainty.</b> The device's alone, to first order:
 *
 * <pre>u(A) = 100 sqrt((uL/L)^2 + (uR/R)^2 - 2 c^2)</pre>
 *
 * where c is the relative standard uncertainty that both forces have in common (one reference mass for both cells): it
 * cancels in the ratio. Everything else of both limbs is taken as uncorrelated. Where nothing is known to be common, c = 0,
 * which states too much rather than too little. The repeat error of people is not in it.
 *
 * <p><b>Degenerate.</b> A limb without a peak, or a force not above 3 of its standard uncertainties (the logarithm then
 * has no meaning, nor has the first-order formula): not computed.
 *
 * <p><b>Source.</b> Log ratio as a symmetry index: Plotnik et al. 2005 (its magnitude; from memory); reference-limb problems of
 * the others: Parkinson et al. 2021, J Sports Sci Med 20:594-617. Propagation: GUM (JCGM 100:2008) 5.1.2, 5.2.2.
 */
public final class LogAsymmetry implements PairMetric {
    private static final double LEAST_RATIO = 3;

    private final double commonRelativeU;

    /**
     * Makes the metric.
     *
     * @param commonRelativeU relative standard uncertainty that both limbs' forces have in common and that therefore
     *     cancels; 0 where nothing is known to be common.
     */
    public LogAsymmetry(double commonRelativeU) {
        if (!(commonRelativeU >= 0 && commonRelativeU < 1)) {
            throw new IllegalArgumentException("commonRelativeU is 0 to 1: commonRelativeU=" + commonRelativeU);
        }
        this.commonRelativeU = commonRelativeU;
    }

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
                "Both peak forces' relative uncertainties, root sum of squares; what both are known to have in common (one"
                        + " reference mass) is left out, everything else is taken as uncorrelated.",
                "Log ratio: Plotnik et al. 2005 (from memory); on reference limbs: Parkinson et al. 2021, J Sports Sci Med"
                        + " 20:594-617.");
    }

    @Override
    public MetricValue compute(MetricValue left, MetricValue right) {
        Quantity l = left.quantity();
        Quantity r = right.quantity();
        if (l == null || r == null) {
            return MetricValue.notComputed(id(), (l == null ? "left" : "right") + " limb: no peak force");
        }
        if (!tellable(l) || !tellable(r)) {
            return MetricValue.notComputed(id(), "a force is not far enough above zero for a ratio");
        }
        double ul = l.standardUncertainty() / l.value();
        double ur = r.standardUncertainty() / r.value();
        double variance = Math.max(0, ul * ul + ur * ur - 2 * commonRelativeU * commonRelativeU);
        double ratio = 100 * (StrictMath.log(l.value()) - StrictMath.log(r.value()));
        return MetricValue.of(id(), ratio, 100 * Math.sqrt(variance), unit());
    }

    private static boolean tellable(Quantity force) {
        return force.value() > LEAST_RATIO * force.standardUncertainty() && force.value() > 0;
    }
}
