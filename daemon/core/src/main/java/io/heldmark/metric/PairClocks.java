package io.heldmark.metric;

/** What is known of two links' clocks against each other beyond what each by itself is known to be. */
@FunctionalInterface
public interface PairClocks {
    /** Nothing. */
    PairClocks UNKNOWN = (leftLink, rightLink, fromNs) -> Double.NaN;

    /**
     * Returns the standard uncertainty of the difference between two links' clocks, in nanoseconds.
     *
     * @param leftLink name of the left cell's link.
     * @param rightLink name of the right cell's link.
     * @param fromNs earliest station time of what is compared.
     * @return NaN where their times then were no better known together than each by itself.
     */
    double standardUncertaintyNs(String leftLink, String rightLink, long fromNs);
}
