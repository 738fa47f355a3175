package io.heldmark.detect;

import io.heldmark.model.ContractionFlag;
import java.util.EnumSet;
import java.util.Set;

/**
 * The contraction under way: what must be remembered of it until it is finished. Heights are newtons above the level of
 * rest at its opening, from the smoothed trace.
 */
final class OpenWindow {
    /** What a smoothed sample means for the window. */
    enum Turn {
        /** Goes on. */
        NONE,
        /** Back at rest, or nearly. */
        ENDED,
        /** Rises again from a low point that is nearly rest: the next effort. */
        NEXT_EFFORT,
        /** Stays on a low level that is not rest. */
        SETTLED
    }

    private static final double END_SHARE = 0.05;
    private static final double LOW_SHARE = 0.2;
    private static final double DIP_SHARE = 0.7;
    private static final double RECOVERY_SHARE = 0.2;
    private static final long SETTLED_BLOCK_NS = 200_000_000L;

    final long id;
    final long onsetNs;
    final double onsetUNs;
    final long openedNs;
    final double noiseN;
    final Set<ContractionFlag> flags = EnumSet.noneOf(ContractionFlag.class);

    private final double risesN;
    private double restN;
    private double peakN;
    private long peakNs;
    private double endN; // endHeightN() of that peak.
    private double valleyN;
    private long valleyNs;

    private long blockNs;
    private double blockSum;
    private int blockCount;
    private double lastBlockN = Double.NaN;
    private long settledNs;
    private double settledN = Double.NaN;

    /**
     * Opens a window.
     *
     * @param id its id.
     * @param onsetNs back-dated onset.
     * @param onsetUNs its standard uncertainty.
     * @param openedNs time of the sample that decided it.
     * @param restN level of rest.
     * @param noiseN noise of the smoothed trace at rest.
     * @param risesN height that counts as a rise of its own.
     */
    OpenWindow(long id, long onsetNs, double onsetUNs, long openedNs, double restN, double noiseN, double risesN) {
        this.id = id;
        this.onsetNs = onsetNs;
        this.onsetUNs = onsetUNs;
        this.openedNs = openedNs;
        this.restN = restN;
        this.noiseN = noiseN;
        this.risesN = risesN;
        blockNs = openedNs;
    }

    /** Returns the level of rest at the opening. */
    double restN() {
        return restN;
    }

    /** Refers the level to a session zero that lies higher. */
    void shiftZero(double shiftN) {
        restN -= shiftN;
    }

    double peakN() {
        return peakN;
    }

    long meanPeakNs() {
        return peakNs;
    }

    /** Returns the time of the lowest point since the peak. */
    long valleyNs() {
        return valleyNs;
    }

    /** Returns when the force came to the level on which it settled. */
    long settledNs() {
        return settledNs;
    }

    /** Returns the height on which the force settled; NaN where it did not. */
    double settledN() {
        return settledN;
    }

    /** Returns the height below which the force counts as back at rest. */
    private double endHeightN() {
        return Math.max(END_SHARE * peakN, Math.min(3 * noiseN, LOW_SHARE * peakN));
    }

    /** Takes a smoothed sample. */
    Turn next(long nowNs, double meanN) {
        double height = meanN - restN;
        if (height > peakN) {
            recover(height);
            peakN = height;
            peakNs = nowNs;
            endN = endHeightN();
            valleyN = height;
            valleyNs = nowNs;
        } else if (height < valleyN) {
            valleyN = height;
            valleyNs = nowNs;
        } else if (recover(height)) {
            return Turn.NEXT_EFFORT;
        }
        if (height < endN) {
            return Turn.ENDED;
        }
        return settled(nowNs, height) ? Turn.SETTLED : Turn.NONE;
    }

    /** Notices a rise after a dip; tells whether the dip was so deep that the next effort begins. */
    private boolean recover(double height) {
        boolean dipped = valleyN < DIP_SHARE * peakN && peakN - valleyN > risesN;
        if (!dipped || height - valleyN < Math.max(RECOVERY_SHARE * peakN, risesN)) {
            return false;
        }
        if (valleyN < LOW_SHARE * peakN && height <= peakN) {
            return true;
        }
        flags.add(ContractionFlag.DOUBLE_EFFORT);
        valleyN = height;
        return false;
    }

    private boolean settled(long nowNs, double height) {
        if (nowNs - blockNs >= SETTLED_BLOCK_NS) {
            double mean = blockSum / blockCount;
            double allowed = Math.max(1, Math.max(0.005 * peakN, 1.5 * noiseN));
            boolean low = mean < LOW_SHARE * peakN && lastBlockN < LOW_SHARE * peakN;
            if (low && Math.abs(mean - lastBlockN) < allowed) {
                settledN = mean;
                settledNs = blockNs - SETTLED_BLOCK_NS;
                return true;
            }
            lastBlockN = mean;
            blockNs = nowNs;
            blockSum = 0;
            blockCount = 0;
        }
        blockSum += height;
        blockCount++;
        return false;
    }
}
