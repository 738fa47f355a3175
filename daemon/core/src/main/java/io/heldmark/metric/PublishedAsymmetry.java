package io.heldmark.metric;

import io.heldmark.model.Limb;
import io.heldmark.model.MetricValue;
import io.heldmark.model.Quantity;

/**
 * A published formula of asymmetry by name, on request, with the reference limb said.
 *
 * <p><b>Uncertainty.</b> The device's: that of the ratio of both forces ({@link LogRatio}) times the formula's sensitivity to it.
 * Formulas that take the magnitude state too little near equality, where the sign is lost.
 *
 * <p><b>Degenerate.</b> As {@link LogAsymmetry}; a formula that wants a reference limb is refused without one.
 */
public final class PublishedAsymmetry implements PairMetric {
    private final AsymmetryFormula formula;
    private final Limb reference;

    /**
     * Makes the metric.
     *
     * @param formula the formula.
     * @param reference the limb it divides by; {@code NONE} where the formula has none or takes the stronger.
     * @throws IllegalArgumentException if the formula wants a reference limb and there is none, or has none and there is one.
     */
    public PublishedAsymmetry(AsymmetryFormula formula, Limb reference) {
        boolean wanted = formula.reference() == AsymmetryFormula.Reference.CHOSEN;
        if (wanted != (reference != Limb.NONE)) {
            throw new IllegalArgumentException(
                    formula.id() + (wanted ? " needs a reference limb: left or right" : " takes no reference limb"));
        }
        this.formula = formula;
        this.reference = reference;
    }

    @Override
    public String id() {
        return "asymmetry." + formula.id();
    }

    @Override
    public String unit() {
        return "%";
    }

    @Override
    public String formula() {
        return formula.formula() + "; reference limb: " + referenceWords();
    }

    private String referenceWords() {
        return switch (formula.reference()) {
            case NONE -> "none";
            case STRONGER -> "the stronger, whichever it is";
            case CHOSEN -> reference == Limb.LEFT ? "left" : "right";
        };
    }

    @Override
    public Metric.Description describe() {
        return new Metric.Description(
                "Asymmetry (" + formula.id() + ")",
                formula(),
                "A limb has no peak force, or its force is not above 3 of its standard uncertainties.",
                "That of the ratio of both forces times the formula's sensitivity to it.",
                formula.source()
                        + ". Collections: Bishop et al. 2016, Strength Cond J; Parkinson et al. 2021, J Sports Sci"
                        + " Med 20:594-617.");
    }

    @Override
    public MetricValue compute(MetricValue left, MetricValue right, CellPair cells) {
        MetricValue log = new LogAsymmetry().compute(left, right, cells);
        Quantity l = left.quantity();
        Quantity r = right.quantity();
        if (log.notComputed() != null || l == null || r == null) {
            return MetricValue.notComputed(id(), String.valueOf(log.notComputed()));
        }
        double sensitivity = formula.sensitivity(l.value(), r.value(), reference);
        return MetricValue.of(
                id(),
                formula.of(l.value(), r.value(), reference),
                LogRatio.budget(left, right, cells).scaled(sensitivity),
                unit());
    }
}
