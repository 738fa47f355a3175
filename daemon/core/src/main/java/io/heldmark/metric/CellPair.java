package io.heldmark.metric;

import io.heldmark.model.CellCalibration;
import io.heldmark.model.ChannelInfo;

/**
 * What is known of two cells together; it matters to ratios of their forces alone.
 *
 * @param commonRelativeU relative standard uncertainty that both calibrations have in common, as two cells calibrated with one
 *     reference have: it cancels in a ratio. 0 where nothing is known to be common.
 * @param mismatchRelativeU relative standard uncertainty of the ratio of both slopes, from the same mass on both cells or from
 *     swapping them; it then stands for both calibrations. NaN where they were never compared.
 */
public record CellPair(double commonRelativeU, double mismatchRelativeU) {
    /** Nothing is known. */
    public static final CellPair UNKNOWN = new CellPair(0, Double.NaN);

    /** Rejects what is no relative uncertainty. */
    public CellPair {
        if (!(commonRelativeU >= 0 && commonRelativeU < 1)) {
            throw new IllegalArgumentException("commonRelativeU is 0 to 1: commonRelativeU=" + commonRelativeU);
        }
        if (!(Double.isNaN(mismatchRelativeU) || (mismatchRelativeU >= 0 && mismatchRelativeU < 1))) {
            throw new IllegalArgumentException("mismatchRelativeU is 0 to 1: mismatchRelativeU=" + mismatchRelativeU);
        }
    }

    /** Returns what two channels say of themselves, with the mismatch as found by comparing them (NaN: never compared). */
    public static CellPair of(ChannelInfo left, ChannelInfo right, double mismatchRelativeU) {
        CellCalibration l = left.cell();
        CellCalibration r = right.cell();
        boolean one = !l.reference().isEmpty() && l.reference().equals(r.reference());
        return new CellPair(one ? Math.min(l.referenceRelativeU(), r.referenceRelativeU()) : 0, mismatchRelativeU);
    }

    /** Tells whether the cells were compared. */
    public boolean compared() {
        return mismatchRelativeU >= 0;
    }
}
