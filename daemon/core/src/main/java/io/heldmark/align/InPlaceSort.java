package io.heldmark.align;

/**
 * Heap sort. {@link java.util.Arrays#sort(double[], int, int)} makes arrays of its own where it finds rising runs, as
 * waits that walk through a range have them; this one never does.
 *
 * <p><b>Source.</b> Williams, Algorithm 232: Heapsort, Communications of the ACM 7 (1964), 347-348 (from memory).
 */
final class InPlaceSort {
    private InPlaceSort() {}

    /** Sorts the first n numbers, none of which is NaN. */
    static void sort(double[] values, int n) {
        for (int root = n / 2 - 1; root >= 0; root--) {
            siftDown(values, root, n);
        }
        for (int end = n - 1; end > 0; end--) {
            double largest = values[0];
            values[0] = values[end];
            values[end] = largest;
            siftDown(values, 0, end);
        }
    }

    private static void siftDown(double[] values, int from, int n) {
        double sinking = values[from];
        int at = from;
        for (int child = 2 * at + 1; child < n; child = 2 * at + 1) {
            if (child + 1 < n && values[child + 1] > values[child]) {
                child++;
            }
            if (values[child] <= sinking) {
                break;
            }
            values[at] = values[child];
            at = child;
        }
        values[at] = sinking;
    }
}
