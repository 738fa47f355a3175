package io.heldmark.align;

import java.util.Arrays;

/**
 * The distance of the two groups into which the newest gaps between arrivals fall, where they do.
 *
 * <p><b>What is asked.</b> The gaps are put in order, {@value #SHARE} of them left out at either end; the widest step from one to
 * the next parts them into two groups. Their distance is that of their medians. They stand out where the step is more
 * than half of it.
 *
 * <p><b>In less time.</b> Mostly there is one group, and to see that no order is needed: the gaps are counted in {@value #CELLS}
 * equal cells. With {@code e} the largest distance, in cells, from one gap to the next above it, the widest step is shorter than
 * {@code e + 1} cells. Between the two medians lies half of the gaps; where no {@code 2 e + 4} cells side by side hold so many,
 * the medians are more than {@code 2 e + 3} cells apart: more than twice the widest step, so there is one group. Where the cells
 * leave it open, the gaps are sorted, and the cells are laid anew over what was found. While they stay, only the gaps that came
 * since the last time are put into cells, and those that gave way are taken out.
 *
 * <p>Nothing is allocated after construction. Which cells there are never changes what is returned.
 */
final class GapGroups {
    /** Gaps that are kept, a power of two. */
    static final int RING = 512;

    static final double SHARE = 0.04;
    static final int CELLS = 128;

    /** How far the cells reach beyond the gaps that they were laid over, at either end, as a share of these. */
    private static final double BEYOND = 0.25;

    private final double[] gaps = new double[RING];
    private final double[] sorted = new double[RING];
    /** How many gaps lie in a cell or below it: below all cells first, in the cells, above them last. */
    private final int[] upTo = new int[CELLS + 2];

    /** How many gaps lie in each cell, numbered alike, and in which one each gap lies. */
    private final int[] inCell = new int[CELLS + 2];

    private final int[] cellOf = new int[RING];
    /** How many of the newest gaps are in no cell yet, and how many of all are. */
    private int fresh;

    private int celled;
    private int count;
    private int next;
    private boolean laid;
    private double edgeNs;
    private double cellsPerNs;

    /** Forgets everything. */
    void clear() {
        count = 0;
        next = 0;
        laid = false;
        fresh = 0;
        celled = 0;
    }

    /** Takes a gap in nanoseconds; of more than {@value #RING} the oldest gives way. */
    void add(double gapNs) {
        gaps[next] = gapNs;
        next = (next + 1) & (RING - 1);
        fresh = Math.min(fresh + 1, RING);
        if (count < RING) {
            count++;
        }
    }

    /** Returns the distance of the two groups in nanoseconds; infinite where there are not two. */
    double distanceNs() {
        int first = (int) (SHARE * count);
        int last = count - 1 - first;
        if (last <= first || (laid && isOneGroup(first, last))) {
            return Double.POSITIVE_INFINITY;
        }
        System.arraycopy(gaps, 0, sorted, 0, count);
        InPlaceSort.sort(sorted, count);
        layCells(sorted[first], sorted[last]);
        int split = first;
        for (int i = first; i < last; i++) {
            if (sorted[i + 1] - sorted[i] > sorted[split + 1] - sorted[split]) {
                split = i;
            }
        }
        double distance = sorted[(split + 1 + last) / 2] - sorted[(first + split) / 2];
        boolean apart = sorted[split + 1] - sorted[split] > distance / 2;
        return apart && distance > 0 ? distance : Double.POSITIVE_INFINITY;
    }

    private void layCells(double lowest, double highest) {
        double span = highest - lowest;
        celled = 0;
        laid = span > 0;
        cellsPerNs = CELLS / ((1 + 2 * BEYOND) * span);
        edgeNs = lowest
                - BEYOND * span
                - 1 / cellsPerNs; // One cell lower, as the first number is for what lies below all.
    }

    /** Tells whether the cells show that there are not two groups; looks at the gaps of ranks first to last. */
    private boolean isOneGroup(int first, int last) {
        putIntoCells();
        int[] upTo = this.upTo;
        if (upTo[0] > first || upTo[CELLS] <= last) {
            return false; // Some of these ranks lie outside the cells.
        }
        int furthest = 0;
        int occupied = -1;
        for (int i = 1; i <= CELLS; i++) {
            boolean holdsSome = upTo[i] > first && upTo[i - 1] <= last && upTo[i] > upTo[i - 1];
            if (holdsSome) {
                furthest = occupied < 0 ? 0 : Math.max(furthest, i - occupied);
                occupied = i;
            }
        }
        int width = 2 * furthest + 4;
        int half = (last + 1 - first) / 2; // The medians are so many ranks apart or one more.
        int most = 0;
        for (int i = 0; i <= CELLS - width; i++) {
            most = Math.max(most, upTo[i + width] - upTo[i]);
        }
        return width <= CELLS && most <= half;
    }

    private void putIntoCells() {
        if (celled == 0 || fresh >= RING) {
            Arrays.fill(inCell, 0);
            celled = 0;
            fresh = count;
        }
        double fromNs = edgeNs;
        double perNs = cellsPerNs;
        for (int i = (next - fresh) & (RING - 1); fresh > 0; fresh--) {
            if (celled == RING) {
                inCell[cellOf[i]]--;
            } else {
                celled++;
            }
            int cell = (int) ((gaps[i] - fromNs) * perNs);
            cell = cell < 0 ? 0 : Math.min(cell, CELLS + 1);
            cellOf[i] = cell;
            inCell[cell]++;
            i = (i + 1) & (RING - 1);
        }
        int sum = 0;
        for (int i = 0; i < upTo.length; i++) {
            sum += inCell[i];
            upTo[i] = sum;
        }
    }
}
