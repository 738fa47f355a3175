package io.heldmark.metric;

import io.heldmark.model.MetricValue;
import io.heldmark.model.Quantity;
import io.heldmark.model.UncertaintyBudget;
import io.heldmark.model.UncertaintySource;
import io.heldmark.model.UncertaintyTerm;

/**
 * The relative uncertainty of a ratio of two values, part by part.
 *
 * <p><b>Formula.</b> With r_i = u_i / value on either side, every part of both sides adds in squares, but the calibration is
 * r_L^2 + r_R^2 - 2 c^2, c being what both have in common; where the cells were compared it is their mismatch instead.
 *
 * <p><b>Source.</b> GUM (JCGM 100:2008) 5.1.6, 5.2.2 and F.1.2.3 (a common reference).
 */
final class LogRatio {
    private LogRatio() {}

    /** Returns the relative budget of left over right; both have a quantity. */
    static UncertaintyBudget budget(MetricValue left, MetricValue right, CellPair cells) {
        UncertaintyBudget l = relative(left);
        UncertaintyBudget r = relative(right);
        UncertaintyBudget.Builder b = UncertaintyBudget.builder();
        addAllButCalibration(b, l);
        addAllButCalibration(b, r);
        if (cells.compared()) {
            return b.add(UncertaintySource.CELL_MISMATCH, cells.mismatchRelativeU())
                    .build();
        }
        double ul = l.of(UncertaintySource.CALIBRATION);
        double ur = r.of(UncertaintySource.CALIBRATION);
        double common = cells.commonRelativeU();
        double variance = ul * ul + ur * ur - 2 * common * common;
        return b.add(UncertaintySource.CALIBRATION, Math.sqrt(Math.max(0, variance)))
                .build();
    }

    private static void addAllButCalibration(UncertaintyBudget.Builder b, UncertaintyBudget budget) {
        for (UncertaintyTerm term : budget.terms()) {
            if (term.source() != UncertaintySource.CALIBRATION) {
                b.add(term.source(), term.standardUncertainty(), term.degreesOfFreedom());
            }
        }
    }

    /** Parts over the value; what was never split up counts as calibration. */
    private static UncertaintyBudget relative(MetricValue value) {
        Quantity q = value.quantity();
        if (q == null) {
            throw new IllegalArgumentException("a ratio needs both values: " + value.id());
        }
        UncertaintyBudget parts = value.budget();
        if (parts == null) {
            parts = UncertaintyBudget.builder()
                    .add(UncertaintySource.CALIBRATION, q.standardUncertainty())
                    .build();
        }
        return parts.scaled(1 / q.value());
    }
}
