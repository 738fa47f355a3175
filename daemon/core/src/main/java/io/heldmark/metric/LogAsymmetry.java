package io.heldmark.metric;

import io.heldmark.model.MetricValue;
import io.heldmark.model.Quantity;

/**
 * Signed asymmetry of two limbs.
 *
 * <p><b>Formula.</b> A = 100 ln(L/R); positive: left is stronger. u(A) = 100 sqrt((uL/L)^2 + (uR/R)^2 - 2 c^2).
 */
public final class LogAsymmetry implements PairMetric {
    private final double commonRelativeU;

    /**
     * Makes the metric.
     *
     * @param commonRelativeU relative standard uncertainty that both limbs' forces have in common (for example the one
     *     reference mass that both cells were calibrated with) and that therefore cancels; 0 where nothing is known to be
     *     common.
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
        return "100 ln(left / right) of the peak forces; positive: left is stronger";
    }

    @Override
    public Metric.Description describe() {
        return new Metric.Description("Asymmetry", formula(), "", "", "");
    }

    @Override
    public MetricValue compute(MetricValue left, MetricValue right) {
        Quantity l = left.quantity();
        Quantity r = right.quantity();
        if (l == null || r == null) {
            return MetricValue.notComputed(id(), (l == null ? "left" : "right") + " has no " + left.id());
        }
        if (!(l.value() > 0 && r.value() > 0)) {
            return MetricValue.notComputed(id(), "both forces must be above zero");
        }
        double ul = l.standardUncertainty() / l.value();
        double ur = r.standardUncertainty() / r.value();
        double variance = Math.max(0, ul * ul + ur * ur - 2 * commonRelativeU * commonRelativeU);
        return MetricValue.of(
                id(), 100 * (StrictMath.log(l.value()) - StrictMath.log(r.value())), 100 * Math.sqrt(variance), unit());
    }
}
