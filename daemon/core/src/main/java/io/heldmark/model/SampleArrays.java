package io.heldmark.model;

/**
 * The samples of a {@link Window} as plain arrays of its size. They may be the window's own: nobody writes to them.
 *
 * <p>Times in nanoseconds of station time, forces in newtons relative to the session zero, and whether samples are missing right
 * before each.
 */
public final class SampleArrays {
    /** Time of each sample. */
    public final long[] timeNs;
    /** Force of each sample. */
    public final double[] forceN;
    /** Whether samples are missing right before each. */
    public final boolean[] gapBefore;

    /** Takes arrays as they are. */
    public SampleArrays(long[] timeNs, double[] forceN, boolean[] gapBefore) {
        this.timeNs = timeNs;
        this.forceN = forceN;
        this.gapBefore = gapBefore;
    }

    /** Copies the samples of a window. */
    static SampleArrays copyOf(Window window) {
        int n = window.size();
        SampleArrays copy = new SampleArrays(new long[n], new double[n], new boolean[n]);
        window.copyTo(copy.timeNs, copy.forceN, copy.gapBefore);
        return copy;
    }
}
