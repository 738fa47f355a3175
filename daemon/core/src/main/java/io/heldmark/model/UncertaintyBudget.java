package io.heldmark.model;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;

/**
 * The parts of one value's device uncertainty. Terms are uncorrelated: what is correlated was combined before it became one.
 *
 * <p><b>Formulas.</b> u = sqrt(sum u_i^2); share_i = u_i^2 / u^2; effective degrees of freedom u^4 / sum(u_i^4 / nu_i).
 *
 * <p><b>Source.</b> GUM (JCGM 100:2008) 5.1.2 and G.4.1 (Welch and Satterthwaite).
 *
 * @param terms in the order of {@link UncertaintySource}, each source at most once, none of size 0.
 */
public record UncertaintyBudget(List<UncertaintyTerm> terms) {
    /** Copies the list. */
    public UncertaintyBudget {
        terms = List.copyOf(terms);
    }

    /** Returns a builder without terms. */
    public static Builder builder() {
        return new Builder();
    }

    /** Returns the combined standard uncertainty. */
    public double standardUncertainty() {
        double variance = 0;
        for (UncertaintyTerm term : terms) {
            variance += term.standardUncertainty() * term.standardUncertainty();
        }
        return Math.sqrt(variance);
    }

    /** Returns the standard uncertainty of one source; 0 where the budget does not hold it. */
    public double of(UncertaintySource source) {
        for (UncertaintyTerm term : terms) {
            if (term.source() == source) {
                return term.standardUncertainty();
            }
        }
        return 0;
    }

    /** Returns a term's share of the variance, 0 to 1. */
    public double share(UncertaintyTerm term) {
        double u = standardUncertainty();
        return u > 0 ? term.standardUncertainty() * term.standardUncertainty() / (u * u) : 0;
    }

    /** Returns the effective degrees of freedom; infinite where no term's are finite. */
    public double effectiveDegreesOfFreedom() {
        double sum = 0;
        for (UncertaintyTerm term : terms) {
            double square = term.standardUncertainty() * term.standardUncertainty();
            sum += square * square / term.degreesOfFreedom();
        }
        double variance = standardUncertainty() * standardUncertainty();
        return sum > 0 ? variance * variance / sum : Double.POSITIVE_INFINITY;
    }

    /** Returns the budget of the value times a factor that is exactly known. */
    public UncertaintyBudget scaled(double factor) {
        Builder scaled = builder();
        for (UncertaintyTerm term : terms) {
            scaled.add(term.source(), factor * term.standardUncertainty(), term.degreesOfFreedom());
        }
        return scaled.build();
    }

    /** Collects terms; equal sources are added in squares, as uncorrelated. */
    public static final class Builder {
        private final Map<UncertaintySource, UncertaintyTerm> bySource = new EnumMap<>(UncertaintySource.class);

        private Builder() {}

        /** Adds a term taken as exactly known; its sign is of no account. */
        public Builder add(UncertaintySource source, double standardUncertainty) {
            return add(source, standardUncertainty, Double.POSITIVE_INFINITY);
        }

        /** Adds a term with degrees of freedom; its sign is of no account. */
        public Builder add(UncertaintySource source, double standardUncertainty, double degreesOfFreedom) {
            UncertaintyTerm next = new UncertaintyTerm(source, Math.abs(standardUncertainty), degreesOfFreedom);
            if (next.standardUncertainty() > 0) {
                bySource.merge(source, next, Builder::merged);
            }
            return this;
        }

        /** Adds all terms of another budget. */
        public Builder add(UncertaintyBudget budget) {
            for (UncertaintyTerm term : budget.terms()) {
                add(term.source(), term.standardUncertainty(), term.degreesOfFreedom());
            }
            return this;
        }

        /** Returns the budget. */
        public UncertaintyBudget build() {
            return new UncertaintyBudget(new ArrayList<>(bySource.values()));
        }

        private static UncertaintyTerm merged(UncertaintyTerm a, UncertaintyTerm b) {
            UncertaintyBudget both = new UncertaintyBudget(List.of(a, b));
            return new UncertaintyTerm(a.source(), both.standardUncertainty(), both.effectiveDegreesOfFreedom());
        }
    }
}
