package io.heldmark.model;

import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Contractions of both limbs that belong together.
 *
 * @param id identity within the session, counted from 1.
 * @param leftContractionId the left limb's contraction.
 * @param rightContractionId the right limb's contraction.
 * @param onsetLagNs left onset minus right onset.
 * @param onsetLagStandardUncertaintyNs its standard uncertainty, alignment included.
 * @param asymmetry signed index 100 ln(L/R) of the peak forces, in per cent of the log ratio.
 * @param flags what a reader must know, as stable words; {@link EffortFlag} has their texts.
 * @param clocksStandardUncertaintyNs of both clocks against each other, where that is better known than each by itself: 0 on
 *     one device, NaN where it is not.
 * @param symmetry symmetry through an effort that was a lowering; absent of others.
 */
public record Effort(
        long id,
        long leftContractionId,
        long rightContractionId,
        long onsetLagNs,
        double onsetLagStandardUncertaintyNs,
        MetricValue asymmetry,
        List<String> flags,
        double clocksStandardUncertaintyNs,
        @Nullable SymmetryThrough symmetry) {
    /** Copies the list. */
    public Effort {
        flags = List.copyOf(flags);
    }

    /** Makes an effort without symmetry through it, of clocks that are known each by itself. */
    public Effort(
            long id,
            long leftContractionId,
            long rightContractionId,
            long onsetLagNs,
            double onsetLagStandardUncertaintyNs,
            MetricValue asymmetry,
            List<String> flags) {
        this(
                id,
                leftContractionId,
                rightContractionId,
                onsetLagNs,
                onsetLagStandardUncertaintyNs,
                asymmetry,
                flags,
                Double.NaN,
                null);
    }

    /** Returns the same effort with the symmetry through it. */
    public Effort withSymmetry(SymmetryThrough through) {
        return new Effort(
                id,
                leftContractionId,
                rightContractionId,
                onsetLagNs,
                onsetLagStandardUncertaintyNs,
                asymmetry,
                flags,
                clocksStandardUncertaintyNs,
                through);
    }
}
