package io.heldmark.conform;

/**
 * How a run is made.
 *
 * @param streamS how long the stream is watched, in seconds.
 * @param allowanceS what link and computer may add to a time of the specification, in seconds.
 * @param baud bits per second of the line, ten of them a byte; 0 where the link has no such rate.
 */
public record Options(double streamS, double allowanceS, long baud) {
    /** Shortest watch, in seconds: below it rates and intervals cannot be told. */
    public static final double SHORTEST_STREAM_S = 3;
    /** Longest watch, in seconds. */
    public static final double LONGEST_STREAM_S = 600;
    /** Largest allowance, in seconds. */
    public static final double LARGEST_ALLOWANCE_S = 1;

    /** Refuses what is out of range. */
    public Options {
        require(streamS >= SHORTEST_STREAM_S && streamS <= LONGEST_STREAM_S, "streamS", streamS);
        require(allowanceS >= 0 && allowanceS <= LARGEST_ALLOWANCE_S, "allowanceS", allowanceS);
        require(baud >= 0, "baud", baud);
    }

    private static void require(boolean holds, String name, Number value) {
        if (!holds) {
            throw new IllegalArgumentException(name + " out of range: " + name + "=" + value);
        }
    }

    /** Returns the allowance in nanoseconds. */
    long allowanceNs() {
        return (long) (allowanceS * 1e9);
    }
}
