package io.heldmark.align;

/**
 * The newest numbers of a sequence, in ascending order whenever somebody looks.
 *
 * <p><b>Method.</b> What came and what it displaced is only noted. A look sorts both and merges them with the order of the
 * look before, in one pass: far less work than to move each number to its place as it comes.
 *
 * <p>Nothing is allocated after construction. Numbers must not be NaN.
 */
final class RecentSorted {
    private final double[] ring;
    private final double[] came;
    private final double[] left;
    private double[] sorted;
    private double[] spare;
    private int sortedCount;
    private int cameCount;
    private int leftCount;
    private int count;
    private int next;

    /** Makes an empty one that keeps as many of the newest numbers as the capacity, a multiple of 4. */
    RecentSorted(int capacity) {
        ring = new double[capacity];
        sorted = new double[capacity];
        spare = new double[capacity];
        came = new double[capacity / 4];
        left = new double[capacity / 4];
    }

    /** Forgets everything. */
    void clear() {
        sortedCount = 0;
        cameCount = 0;
        leftCount = 0;
        count = 0;
        next = 0;
    }

    /** Takes a number; the oldest gives way where there is no room. */
    void add(double value) {
        if (cameCount == came.length) {
            merge();
        }
        if (count == ring.length) {
            left[leftCount++] = ring[next];
        } else {
            count++;
        }
        came[cameCount++] = value;
        ring[next] = value;
        next = next + 1 == ring.length ? 0 : next + 1;
    }

    /** Returns the numbers in ascending order at the beginning of an array, valid until the next one is added. */
    double[] sorted() {
        if (cameCount > 0) {
            merge();
        }
        return sorted;
    }

    private void merge() {
        InPlaceSort.sort(came, cameCount);
        InPlaceSort.sort(left, leftCount);
        int c = 0;
        int l = 0;
        int n = 0;
        for (int i = 0; i < sortedCount; i++) {
            double value = sorted[i];
            if (l < leftCount && value == left[l]) {
                l++;
                continue;
            }
            while (c < cameCount && came[c] < value) {
                spare[n++] = came[c++];
            }
            spare[n++] = value;
        }
        System.arraycopy(came, c, spare, n, cameCount - c);
        sortedCount = n + cameCount - c;
        double[] swapped = sorted;
        sorted = spare;
        spare = swapped;
        cameCount = 0;
        leftCount = 0;
    }
}
