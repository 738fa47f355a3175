package io.heldmark.metric;

import io.heldmark.model.UncertaintyBudget;
import io.heldmark.model.UncertaintySource;
import io.heldmark.model.UncertaintyTerm;

/**
 * Budget of a figure of one contraction over its peak force: what multiplies both cancels.
 *
 * <p><b>Formula.</b> q = n / d. Calibration and the direction of the pull act on both by the same factor and cancel. The session
 * zero and its drift shift d, and n too where n is itself a level: dq = (1 - q) / d or -q / d times the shift. Everything
 * else is independent: u(n) / d and q u(d) / d.
 *
 * <p><b>Source.</b> GUM (JCGM 100:2008) 5.1.2 and 5.2.2.
 */
final class Relative {
    private Relative() {}

    /** Returns the budget of a level, as a mean force, over another. */
    static UncertaintyBudget ofLevel(UncertaintyBudget n, UncertaintyBudget d, double q, double divisor) {
        return of(n, d, q, divisor, 1);
    }

    /** Returns the budget of a rise, as a rate above the resting level, over a level. */
    static UncertaintyBudget ofRise(UncertaintyBudget n, UncertaintyBudget d, double q, double divisor) {
        return of(n, d, q, divisor, 0);
    }

    private static UncertaintyBudget of(
            UncertaintyBudget n, UncertaintyBudget d, double q, double divisor, double shifts) {
        UncertaintyBudget.Builder b = UncertaintyBudget.builder();
        for (UncertaintyTerm term : n.terms()) {
            if (isIndependent(term.source())) {
                b.add(term.source(), term.standardUncertainty() / divisor, term.degreesOfFreedom());
            }
        }
        for (UncertaintyTerm term : d.terms()) {
            if (isIndependent(term.source())) {
                b.add(term.source(), q * term.standardUncertainty() / divisor, term.degreesOfFreedom());
            } else if (isShift(term.source())) {
                b.add(term.source(), (shifts - q) * term.standardUncertainty() / divisor, term.degreesOfFreedom());
            }
        }
        return b.build();
    }

    private static boolean isShift(UncertaintySource source) {
        return source == UncertaintySource.ZERO || source == UncertaintySource.DRIFT;
    }

    private static boolean isIndependent(UncertaintySource source) {
        return switch (source) {
            case CALIBRATION, BEYOND_RANGE, PULL_MISALIGNMENT, ZERO, DRIFT -> false;
            default -> true;
        };
    }
}
