package io.heldmark.metric;

import io.heldmark.model.Limb;

/**
 * Published formulas of asymmetry, in per cent, by name. The station's own is the signed log ratio, {@link LogAsymmetry}: it
 * needs no reference limb and adds over steps. These are for comparison with papers that use them.
 *
 * <p>L and R are the left and the right limb's figure. "Reference" is the limb that a formula divides by: where it is the stronger
 * one, it may change from one test to the next, and where a person chooses it, it must be said.
 *
 * <p><b>Source.</b> Beside each formula. Collections of them: Bishop et al. 2016 and 2018, Strength Cond J; Parkinson et al. 2021, J
 * Sports Sci Med 20:594-617 (from memory).
 */
public enum AsymmetryFormula {
    /** (stronger - weaker) / stronger. */
    STRONGER_MINUS_WEAKER(
            "stronger-minus-weaker",
            "100 · (stronger − weaker) / stronger",
            "Impellizzeri et al. 2007; for one limb at a time: Bishop et al. 2018; from memory",
            Reference.STRONGER),
    /** (stronger - weaker) / sum. */
    SYMMETRY_INDEX(
            "symmetry-index",
            "100 · (stronger − weaker) / (stronger + weaker)",
            "Sato and Heise 2012; for both limbs at once: Bishop et al. 2018; from memory",
            Reference.NONE),
    /** (reference - other) / mean. */
    ASYMMETRY_INDEX(
            "asymmetry-index",
            "100 · (reference − other) / mean of both",
            "Robinson et al. 1987; from memory",
            Reference.CHOSEN),
    /** (reference - other) / sum. */
    BILATERAL_INDEX(
            "bilateral-index", "100 · (reference − other) / (reference + other)", Practice.TEXT, Reference.CHOSEN),
    /** weaker / stronger. */
    WEAKER_OVER_STRONGER("weaker-over-stronger", "100 · weaker / stronger", Practice.TEXT, Reference.STRONGER),
    /** other / reference. */
    OTHER_OVER_REFERENCE("other-over-reference", "100 · other / reference", Practice.TEXT, Reference.CHOSEN),
    /** (reference - other) / reference. */
    DIFFERENCE_TO_REFERENCE(
            "difference-to-reference", "100 · (reference − other) / reference", Practice.TEXT, Reference.CHOSEN),
    /** (45 degrees - atan(L / R)) / 90 degrees. */
    SYMMETRY_ANGLE(
            "symmetry-angle",
            "100 · (45° − arctan(left / right)) / 90°",
            "Zifchock et al. 2008; from memory",
            Reference.NONE);

    /** What stands in place of a source; an enum's constants cannot see its own static fields. */
    private static final class Practice {
        static final String TEXT = "common practice, no published source";
    }

    /** Which limb a formula divides by. */
    public enum Reference {
        /** None. */
        NONE,
        /** The stronger one, whichever that is. */
        STRONGER,
        /** One that was chosen. */
        CHOSEN
    }

    private final String id;
    private final String formula;
    private final String source;
    private final Reference reference;

    AsymmetryFormula(String id, String formula, String source, Reference reference) {
        this.id = id;
        this.formula = formula;
        this.source = source;
        this.reference = reference;
    }

    /** Returns its name. */
    public String id() {
        return id;
    }

    /** Returns the formula, in words. */
    public String formula() {
        return formula;
    }

    /** Returns who published it, or that it is common practice without a published source. */
    public String source() {
        return source;
    }

    /** Returns which limb it divides by. */
    public Reference reference() {
        return reference;
    }

    /**
     * Returns the formula of a name.
     *
     * @throws IllegalArgumentException naming those there are.
     */
    public static AsymmetryFormula named(String id) {
        StringBuilder names = new StringBuilder();
        for (AsymmetryFormula f : values()) {
            if (f.id.equals(id)) {
                return f;
            }
            names.append(names.length() == 0 ? "" : ", ").append(f.id);
        }
        throw new IllegalArgumentException("no asymmetry of the name " + id + "; there are " + names);
    }

    /** Returns the value; forces over 0, the reference limb where the formula wants one. */
    double of(double left, double right, Limb chosen) {
        double ref = chosen == Limb.RIGHT ? right : left;
        double other = chosen == Limb.RIGHT ? left : right;
        double strong = Math.max(left, right);
        double weak = Math.min(left, right);
        return 100
                * switch (this) {
                    case STRONGER_MINUS_WEAKER -> (strong - weak) / strong;
                    case SYMMETRY_INDEX -> (strong - weak) / (strong + weak);
                    case ASYMMETRY_INDEX -> 2 * (ref - other) / (ref + other);
                    case BILATERAL_INDEX -> (ref - other) / (ref + other);
                    case WEAKER_OVER_STRONGER -> weak / strong;
                    case OTHER_OVER_REFERENCE -> other / ref;
                    case DIFFERENCE_TO_REFERENCE -> (ref - other) / ref;
                    case SYMMETRY_ANGLE -> 0.5 - StrictMath.atan2(left, right) * 2 / StrictMath.PI;
                };
    }

    /**
     * Returns |d value / d ln(L/R)|: every formula depends on the ratio q alone, so its uncertainty is this times the relative
     * uncertainty of the ratio.
     */
    double sensitivity(double left, double right, Limb chosen) {
        double q = left / right;
        double share = q / ((1 + q) * (1 + q)); // Of (L - R) / (L + R): half its derivative.
        return 100
                * switch (this) {
                    case STRONGER_MINUS_WEAKER, WEAKER_OVER_STRONGER -> Math.min(q, 1 / q);
                    case SYMMETRY_INDEX, BILATERAL_INDEX -> 2 * share;
                    case ASYMMETRY_INDEX -> 4 * share;
                    case OTHER_OVER_REFERENCE, DIFFERENCE_TO_REFERENCE -> chosen == Limb.RIGHT ? q : 1 / q;
                    case SYMMETRY_ANGLE -> 2 / StrictMath.PI * q / (1 + q * q);
                };
    }
}
