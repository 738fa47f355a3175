package io.heldmark.align;

/**
 * Sorts and picks out of numbers in place, without making arrays. {@link java.util.Arrays#sort(double[], int, int)} makes
 * some where it finds rising runs, as waits that walk through a range have them.
 *
 * <p><b>Method.</b> Quicksort with the median of three as pivot, insertion sort of short stretches; for a single rank only
 * the part that holds it. O(n log n) and O(n) on average, O(n^2) at worst, for the few hundred numbers that callers have.
 *
 * <p><b>Source.</b> Hoare, Algorithms 64 and 65: Quicksort and Find, Communications of the ACM 4 (1961), 321-322 (from
 * memory).
 */
final class InPlaceSort {
    private static final int SHORT = 24;

    private InPlaceSort() {}

    /** Sorts the first n numbers, none of which is NaN. */
    static void sort(double[] values, int n) {
        sort(values, 0, n - 1);
    }

    /** Returns the number that would stand at an index if the first n were sorted; may move or overwrite them. */
    static double pick(double[] values, int n, int index) {
        int low = 0;
        int high = n - 1;
        if (n - index < SHORT) {
            return pickHigh(values, n, n - index);
        }
        while (high - low >= SHORT) {
            int middle = partition(values, low, high);
            if (index <= middle) {
                high = middle;
            } else {
                low = middle + 1;
            }
        }
        insertionSort(values, low, high);
        return values[index];
    }

    /**
     * The same where the number is probably known: one pass shows whether it is, and then nothing is moved.
     *
     * @param likely the number that probably stands there.
     */
    static double pick(double[] values, int n, int index, double likely) {
        int below = 0;
        int upTo = 0;
        for (int i = 0; i < n; i++) {
            below += values[i] < likely ? 1 : 0;
            upTo += values[i] <= likely ? 1 : 0;
        }
        return below <= index && index < upTo ? likely : pick(values, n, index);
    }

    /** Returns the lowest of the highest few, which are gathered, sorted, at the beginning; overwrites the others. */
    private static double pickHigh(double[] values, int n, int few) {
        insertionSort(values, 0, few - 1);
        for (int i = few; i < n; i++) {
            double value = values[i];
            if (value > values[0]) {
                int at = 0;
                while (at + 1 < few && values[at + 1] < value) {
                    values[at] = values[at + 1];
                    at++;
                }
                values[at] = value;
            }
        }
        return values[0];
    }

    private static void sort(double[] values, int from, int to) {
        int low = from;
        int high = to;
        while (high - low >= SHORT) {
            int middle = partition(values, low, high);
            if (middle - low < high - middle) { // The shorter part by recursion, so that the depth stays small.
                sort(values, low, middle);
                low = middle + 1;
            } else {
                sort(values, middle + 1, high);
                high = middle;
            }
        }
        insertionSort(values, low, high);
    }

    /** Moves what is below the pivot in front of what is above; returns the last index of the first part. */
    private static int partition(double[] values, int low, int high) {
        double a = values[low];
        double b = values[(low + high) >>> 1];
        double c = values[high];
        double pivot = Math.max(Math.min(a, b), Math.min(Math.max(a, b), c));
        int i = low - 1;
        int j = high + 1;
        while (true) {
            do {
                i++;
            } while (values[i] < pivot);
            do {
                j--;
            } while (values[j] > pivot);
            if (i >= j) {
                return j; // Below high: of a median of three, something stands above or beside it.
            }
            double swapped = values[i];
            values[i] = values[j];
            values[j] = swapped;
        }
    }

    private static void insertionSort(double[] values, int low, int high) {
        for (int i = low + 1; i <= high; i++) {
            double moved = values[i];
            int at = i;
            while (at > low && values[at - 1] > moved) {
                values[at] = values[at - 1];
                at--;
            }
            values[at] = moved;
        }
    }
}
