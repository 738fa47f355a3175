package io.heldmark.metric;

import io.heldmark.model.ContractionFlag;
import java.util.Arrays;

/**
 * The catch of a fall: a brief impact after the break of a declared lowering, when hands meet the floor and jerk the cell.
 *
 * <p><b>Method.</b> Means over 20 ms from the onset to the last sample that is kept, heights above the resting level. The break: the
 * force has fallen to 80 % or less of the highest 100 ms before. From there on a top that stands on both sides, within 100 ms, above
 * the lowest means by more than 10 N, 2 % of that highest and 5 noise SD of such a mean. A rise that stays up, or takes longer, is
 * muscle and no impact.
 *
 * <p><b>Later impacts.</b> What comes when the lowering is already finished opens a window of its own, which turns out to be too
 * brief; the station then puts the flag on the lowering ({@link #LATEST_NS}).
 *
 * <p><b>Degenerate.</b> Not a declared lowering, or means with missing samples around: nothing is said. Not seen are an impact that makes a
 * shoulder of a steep release and no rise, and one that parts the lowering from what follows ({@code not-back-to-rest}): under 20 % of
 * the peak, hard, and before the force is at rest. Of impacts that lift the force by 20 N or more 87 to 100 % are seen.
 *
 * <p><b>Source.</b> The project's definition, no published source; held on the simulators' labels, {@code CatchSpikeTest}.
 */
public final class CatchSpike implements QualityCheck {
    /** How long after the offset of a lowering a brief impact counts as its catch. */
    public static final long LATEST_NS = 1_000_000_000L;

    private static final double BROKEN_SHARE = 0.8;
    private static final double LEAST_N = 10;
    private static final double LEAST_SHARE = 0.02;
    private static final double NOISES = 5;
    private static final double BESIDE_S = 0.1;
    // What parts two efforts, as the detector has it, and what a contraction takes at least.
    private static final double MUSCLE_N = 15;
    private static final double DIP_SHARE = 0.7;
    private static final double RECOVERY_SHARE = 0.2;

    @Override
    public ContractionFlag flag() {
        return ContractionFlag.CATCH_SPIKE;
    }

    @Override
    public String rule() {
        return "Of a declared lowering, once the force is under 80 % of the highest 100 ms before: a 20-ms mean that stands on both"
                + " sides, within 100 ms, above the lowest by more than 10 N, 2 % of that highest and 5 noise SD of such means; or"
                + " a window too brief for a contraction that opens within 1 s after the offset.";
    }

    @Override
    public boolean raisedBy(Hold hold) {
        return Lowering.is(hold.window()) && top(hold.throughTail(), 0) >= 0;
    }

    /** Tells whether nothing in a lowering rises again, as a second effort does, once its impacts are left out. */
    static boolean isOnlyRise(Hold lowering) {
        Hold hold = lowering.throughTail();
        boolean[] impact = new boolean[hold.size()];
        int beside = beside(hold);
        for (int at = top(hold, 0); at >= 0; at = top(hold, at + 1)) {
            Arrays.fill(impact, Math.max(0, at - beside), Math.min(hold.size(), at + beside + 1), true);
        }
        double peakN = Double.NEGATIVE_INFINITY;
        double valleyN = Double.NEGATIVE_INFINITY;
        for (int b = 0; b < hold.size(); b++) {
            double heightN = hold.heightN(b);
            if (impact[b] || Double.isNaN(heightN)) {
                continue;
            }
            boolean dipped = valleyN < DIP_SHARE * peakN && peakN - valleyN > MUSCLE_N;
            if (dipped && heightN - valleyN >= Math.max(RECOVERY_SHARE * peakN, MUSCLE_N)) {
                return false;
            }
            valleyN = heightN > peakN ? heightN : Math.min(valleyN, heightN);
            peakN = Math.max(peakN, heightN);
        }
        return true;
    }

    /** Returns the first block of an impact's top, from a block on; -1 for none. */
    private static int top(Hold hold, int from) {
        int beside = beside(hold);
        double highestN = Double.NEGATIVE_INFINITY; // Of the 100-ms means that end before the low block.
        for (int b = beside; b < hold.size() - 1; b++) {
            int low = lowest(hold, b - beside, b);
            for (int end = Math.max(0, b - beside - 1); end < low; end++) {
                highestN = Math.max(highestN, mean(hold, end));
            }
            double leastN = Math.max(Math.max(LEAST_N, LEAST_SHARE * highestN), NOISES * hold.blockNoiseN());
            boolean broken = hold.heightN(low) <= BROKEN_SHARE * highestN;
            if (b >= from && broken && hold.heightN(b) - hold.heightN(low) > leastN && isTop(hold, low, b, beside)) {
                int after = lowest(hold, b + 1, Math.min(hold.size(), b + beside + 1));
                if (hold.heightN(b) - hold.heightN(after) > leastN) {
                    return b;
                }
            }
        }
        return -1;
    }

    /** Tells whether nothing from the low block on stands higher: before it the force may still have been falling. */
    private static boolean isTop(Hold hold, int low, int block, int beside) {
        for (int b = low; b < Math.min(hold.size(), block + beside + 1); b++) {
            if (hold.heightN(b) > hold.heightN(block)) {
                return false;
            }
        }
        return true;
    }

    /** Returns the lowest block of a stretch; its first one where samples are missing, so that nothing is compared. */
    private static int lowest(Hold hold, int from, int to) {
        int low = from;
        for (int b = from; b < to; b++) {
            if (Double.isNaN(hold.heightN(b))) {
                return b;
            }
            low = hold.heightN(b) < hold.heightN(low) ? b : low;
        }
        return low;
    }

    private static double mean(Hold hold, int last) {
        int n = beside(hold);
        double sum = 0;
        for (int b = last - n + 1; b <= last; b++) {
            sum += b < 0 ? Double.NaN : hold.heightN(b);
        }
        return Double.isNaN(sum) ? Double.NEGATIVE_INFINITY : sum / n;
    }

    private static int beside(Hold hold) {
        return (int) Math.max(1, Math.round(BESIDE_S / hold.blockS()));
    }
}
