package io.heldmark.align;

/**
 * The median of the newest {@value #KEPT} distances between frames.
 *
 * <p><b>Method.</b> It is looked for after every {@value #EVERY}th distance, and after each of the first few. The distances are
 * kept as the bits of their doubles, which for numbers above zero are in the same order and are compared by subtraction, without
 * a branch that could not be foreseen. How many are below and above the median is counted along with what comes and goes; the
 * counts show whether it is still the median, and else it goes on to the next number below or above until it is.
 *
 * <p>Nothing is allocated after construction.
 */
final class PeriodMedian {
    static final int KEPT = 64;
    static final int EVERY = 8;

    private final long[] kept = new long[KEPT];
    private final long[] fresh = new long[EVERY];
    private int freshCount;
    private int count;
    private int next;
    private long median;
    private double medianNs;
    private long below;
    private long above;

    /** Forgets everything. */
    void clear() {
        freshCount = 0;
        count = 0;
        next = 0;
        median = 0;
        medianNs = 0;
        below = 0;
        above = 0;
    }

    /** Takes a distance in nanoseconds; one that is not above zero is of a frame out of order and says nothing. */
    void add(double distanceNs) {
        if (!(distanceNs > 0)) {
            return;
        }
        fresh[freshCount++] = Double.doubleToRawLongBits(distanceNs);
        if (freshCount == EVERY || count < EVERY) {
            learn();
        }
    }

    /** Returns the median as of the last time it was looked for, of an even number the upper one; 0 before the first. */
    double medianNs() {
        return medianNs;
    }

    private void learn() {
        for (int i = 0; i < freshCount; i++) {
            if (count == KEPT) {
                below -= isLess(kept[next], median);
                above -= isLess(median, kept[next]);
            } else {
                count++;
            }
            kept[next] = fresh[i];
            below += isLess(fresh[i], median);
            above += isLess(median, fresh[i]);
            next = (next + 1) & (KEPT - 1);
        }
        freshCount = 0;
        int middle = count / 2;
        while (below > middle) {
            moveTo(nextBelow());
        }
        while (count - above <= middle) {
            moveTo(nextAbove());
        }
    }

    private void moveTo(long bits) {
        median = bits;
        medianNs = Double.longBitsToDouble(bits);
        below = 0;
        above = 0;
        for (int i = 0; i < count; i++) {
            below += isLess(kept[i], bits);
            above += isLess(bits, kept[i]);
        }
    }

    private long nextBelow() {
        long highest = 0;
        for (int i = 0; i < count; i++) {
            highest = kept[i] < median ? Math.max(highest, kept[i]) : highest;
        }
        return highest;
    }

    private long nextAbove() {
        long lowest = Long.MAX_VALUE;
        for (int i = 0; i < count; i++) {
            lowest = kept[i] > median ? Math.min(lowest, kept[i]) : lowest;
        }
        return lowest;
    }

    /** Returns 1 where a is less than b, else 0; neither is negative. */
    private static long isLess(long a, long b) {
        return (a - b) >>> 63;
    }
}
