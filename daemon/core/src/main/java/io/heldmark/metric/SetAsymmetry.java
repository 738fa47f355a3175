package io.heldmark.metric;

import io.heldmark.model.MetricValue;
import io.heldmark.model.Quantity;
import io.heldmark.model.UncertaintyBudget;
import io.heldmark.model.UncertaintySource;
import io.heldmark.model.UncertaintyTerm;
import java.util.ArrayList;
import java.util.List;

/**
 * Asymmetry of a set: the mean of the repetitions' own signed indices.
 *
 * <p><b>Rules.</b> Both limbs at once: the index of each repetition, then averaged; never the left's best repetition against the
 * right's best of another. One limb at a time: the same statistic of each side, then one index. Signs stay: the mean of
 * magnitudes is not the magnitude of the mean (with true symmetry and an error of 5.7 points it is 4.5). A squeeze on one load
 * path reads both sides equal by Newton's third law: refused.
 *
 * <p><b>Uncertainty.</b> The device's. A part that is the same in every repetition stays, as the mean of the repetitions'; a part
 * that is drawn anew is the root of the sum of squares over n.
 *
 * <p><b>Source.</b> The project's rules; propagation: GUM (JCGM 100:2008) 5.1.2, 5.2.2.
 */
public final class SetAsymmetry {
    /** Id of the result. */
    public static final String ID = "asymmetry.log.mean";

    private static final String ONE_LOAD_PATH =
            "both sides press on one load path: by Newton's third law they read the same, whatever each limb does";

    private SetAsymmetry() {}

    /**
     * Averages the signed index over a set of repetitions made with both limbs at once.
     *
     * @param repetitions {@code asymmetry.log} of each; those without a value are left out.
     * @param oneLoadPath whether both limbs press against each other through one load path.
     */
    public static MetricValue paired(List<MetricValue> repetitions, boolean oneLoadPath) {
        if (oneLoadPath) {
            return MetricValue.notComputed(ID, ONE_LOAD_PATH);
        }
        List<MetricValue> known =
                repetitions.stream().filter(m -> m.quantity() != null).toList();
        if (known.isEmpty()) {
            return MetricValue.notComputed(ID, "no repetition has an asymmetry");
        }
        return mean(ID, known, "%");
    }

    /**
     * Compares limbs that were tested one after the other.
     *
     * @param left the same figure of each of the left limb's trials.
     * @param right of each of the right limb's; as many.
     */
    public static MetricValue oneByOne(List<MetricValue> left, List<MetricValue> right, CellPair cells) {
        if (left.size() != right.size()) {
            return MetricValue.notComputed(
                    ID, "unequal numbers of trials: " + left.size() + " left, " + right.size() + " right");
        }
        for (int i = 0; i < left.size(); i++) {
            if (left.get(i).quantity() == null || right.get(i).quantity() == null) {
                return MetricValue.notComputed(ID, "a trial of the set has no value");
            }
        }
        if (left.isEmpty()) {
            return MetricValue.notComputed(ID, "there are no trials");
        }
        String unit = unitOf(left.get(0));
        MetricValue both = new LogAsymmetry().compute(mean("left", left, unit), mean("right", right, unit), cells);
        Quantity q = both.quantity();
        return q == null
                ? MetricValue.notComputed(ID, String.valueOf(both.notComputed()))
                : new MetricValue(ID, q, null, both.budget());
    }

    /** Returns the mean of the same figure of several trials, or why there is none. */
    static MetricValue meanOf(String id, List<MetricValue> values) {
        for (MetricValue value : values) {
            if (value.notComputed() != null) {
                return MetricValue.notComputed(id, value.notComputed());
            }
        }
        return values.isEmpty()
                ? MetricValue.notComputed(id, "there are no accepted trials")
                : mean(id, values, unitOf(values.get(0)));
    }

    private static String unitOf(MetricValue value) {
        Quantity q = value.quantity();
        return q == null ? "" : q.unit();
    }

    /** Mean of values that all are there. */
    private static MetricValue mean(String id, List<MetricValue> values, String unit) {
        int n = values.size();
        double sum = 0;
        double wholeU = 0; // What was never split up is taken as the same in every repetition.
        List<UncertaintyBudget> budgets = new ArrayList<>();
        for (MetricValue value : values) {
            Quantity q = value.quantity();
            UncertaintyBudget budget = value.budget();
            sum += q == null ? 0 : q.value();
            wholeU += q == null ? 0 : q.standardUncertainty();
            if (budget != null) {
                budgets.add(budget);
            }
        }
        return budgets.size() == n
                ? MetricValue.of(id, sum / n, mean(budgets), unit)
                : MetricValue.of(id, sum / n, wholeU / n, unit);
    }

    /** Budget of the mean of values of one cell or one pair of cells. */
    static UncertaintyBudget mean(List<UncertaintyBudget> budgets) {
        int n = budgets.size();
        UncertaintyBudget.Builder b = UncertaintyBudget.builder();
        for (UncertaintySource source : UncertaintySource.values()) {
            double sum = 0;
            double squares = 0;
            double degrees = 0;
            for (UncertaintyBudget budget : budgets) {
                double u = budget.of(source);
                sum += u;
                squares += u * u;
                degrees += degreesOf(budget, source);
            }
            b.add(source, source.systematic() ? sum / n : Math.sqrt(squares) / n, Math.max(1, degrees));
        }
        return b.build();
    }

    private static double degreesOf(UncertaintyBudget budget, UncertaintySource source) {
        for (UncertaintyTerm term : budget.terms()) {
            if (term.source() == source) {
                return term.degreesOfFreedom();
            }
        }
        return 0;
    }
}
