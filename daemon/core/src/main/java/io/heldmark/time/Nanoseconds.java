package io.heldmark.time;

/** Whole nanoseconds of computed ones. */
public final class Nanoseconds {
    private static final double EXACT_NS = 4_503_599_627_370_496.0; // 2^52: from here on there are no halves.

    private Nanoseconds() {}

    /**
     * Returns the nearest whole number, of two equally near ones the larger: {@link Math#round(double)} in less time.
     *
     * <p>From 1 to 2^52 adding a half never rounds across a whole number: the sum is exact, or it has just passed a power of
     * two and is less than a half above it. Just below a half it does.
     */
    public static long round(double ns) {
        return ns >= 1 && ns < EXACT_NS ? (long) (ns + 0.5) : Math.round(ns);
    }
}
