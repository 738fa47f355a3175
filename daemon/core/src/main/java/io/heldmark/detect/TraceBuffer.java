package io.heldmark.detect;

import io.heldmark.model.SampleBatch;
import java.util.Arrays;

/**
 * The newest samples of one channel: a ring of time, force and gap marks.
 *
 * <p><b>Addresses.</b> Samples are counted from 0 since the last {@link #clear()}; a position stays valid while
 * {@link #first()} &lt;= position &lt; {@link #end()}. When the ring is full the oldest sample gives way to the newest.
 *
 * <p><b>Units.</b> Nanoseconds of station time, newtons relative to the session zero in force.
 *
 * <p><b>Cost.</b> O(1) per sample; nothing is allocated after construction.
 *
 * <p><b>Threading.</b> One thread.
 */
public final class TraceBuffer {
    private final long[] timeNs;
    private final double[] forceN;
    private final boolean[] gapBefore;
    private final int mask;
    private long end;

    /**
     * Makes an empty ring.
     *
     * @param capacity samples that it must be able to hold, 1 to 2^28; rounded up to a power of two.
     */
    public TraceBuffer(int capacity) {
        if (capacity < 1 || capacity > 1 << 28) {
            throw new IllegalArgumentException("capacity is 1 to 2^28: capacity=" + capacity);
        }
        int size = Integer.highestOneBit(Math.max(1, capacity - 1)) << (capacity > 1 ? 1 : 0);
        timeNs = new long[size];
        forceN = new double[size];
        gapBefore = new boolean[size];
        mask = size - 1;
    }

    /** Returns the number of samples that the ring holds at most. */
    public int capacity() {
        return timeNs.length;
    }

    /** Adds one sample. */
    public void add(long sampleTimeNs, double sampleForceN, boolean gap) {
        int i = (int) end & mask;
        timeNs[i] = sampleTimeNs;
        forceN[i] = sampleForceN;
        gapBefore[i] = gap;
        end++;
    }

    /** Adds all samples of a batch. */
    public void add(SampleBatch batch) {
        int done = 0;
        while (done < batch.count) {
            int at = (int) end & mask;
            int run = Math.min(batch.count - done, timeNs.length - at);
            System.arraycopy(batch.timeNs, done, timeNs, at, run);
            System.arraycopy(batch.forceN, done, forceN, at, run);
            Arrays.fill(gapBefore, at, at + run, false);
            done += run;
            end += run;
        }
        if (batch.count > 0 && batch.has(SampleBatch.GAP_BEFORE)) {
            gapBefore[(int) (end - batch.count) & mask] = true;
        }
    }

    /** Returns the position of the oldest sample. */
    public long first() {
        return Math.max(0, end - timeNs.length);
    }

    /** Returns the position after the newest sample. */
    public long end() {
        return end;
    }

    /** Returns the time of a sample. */
    public long timeNs(long position) {
        return timeNs[(int) position & mask];
    }

    /** Returns the force of a sample. */
    public double forceN(long position) {
        return forceN[(int) position & mask];
    }

    /** Tells whether samples are missing right before a sample. */
    public boolean gapBefore(long position) {
        return gapBefore[(int) position & mask];
    }

    /** Tells whether samples are missing right before a sample, for longer than a time in nanoseconds. */
    public boolean gapBefore(long position, long longerThanNs) {
        return gapBefore(position) && (position <= first() || timeNs(position) - timeNs(position - 1) > longerThanNs);
    }

    /** Tells whether all forces of the positions from, inclusive, to, exclusive, lie between two values. */
    boolean within(long from, long to, double leastN, double mostN) {
        for (long p = from; p < to; p++) {
            double f = forceN(p);
            if (!(f > leastN && f < mostN)) {
                return false;
            }
        }
        return true;
    }

    /** Returns the first position from, inclusive, to, exclusive, that samples are missing before; {@code to} for none. */
    long firstGap(long from, long to) {
        long p = from;
        while (p < to && !gapBefore[(int) p & mask]) {
            p++;
        }
        return p;
    }

    /**
     * Adds the running means of another ring's samples, each stamped with the middle of its times.
     *
     * @param raw the other ring.
     * @param from the first sample to be the newest of a mean.
     * @param to after the last one; there is no gap from {@code width} samples before {@code from} on.
     * @param width samples in a mean.
     * @param sum sum of the {@code width} samples before {@code from}.
     * @return sum of the newest {@code width} samples.
     */
    double addMeans(TraceBuffer raw, long from, long to, int width, double sum) {
        double running = sum;
        long at = end;
        for (long p = from; p < to; p++) {
            int newest = (int) p & raw.mask;
            running += raw.forceN[newest];
            running -= raw.forceN[(int) (p - width) & raw.mask];
            long firstNs = raw.timeNs[(int) (p + 1 - width) & raw.mask];
            int i = (int) at & mask;
            timeNs[i] = firstNs + ((raw.timeNs[newest] - firstNs) >> 1);
            forceN[i] = running / width;
            gapBefore[i] = false;
            at++;
        }
        end = at;
        return running;
    }

    /** Copies the positions from, inclusive, to, exclusive, to the beginnings of arrays. */
    void copy(long from, long to, long[] times, double[] forces, boolean[] gaps) {
        int done = 0;
        while (done < to - from) {
            int at = (int) (from + done) & mask;
            int n = (int) Math.min(to - from - done, timeNs.length - at);
            System.arraycopy(timeNs, at, times, done, n);
            System.arraycopy(forceN, at, forces, done, n);
            System.arraycopy(gapBefore, at, gaps, done, n);
            done += n;
        }
    }

    /** Returns the first position at or after a time; {@link #end()} if there is none. */
    public long positionAtOrAfter(long atNs) {
        long low = first();
        long high = end;
        while (low < high) {
            long middle = (low + high) >>> 1;
            if (timeNs(middle) < atNs) {
                low = middle + 1;
            } else {
                high = middle;
            }
        }
        return low;
    }

    /** Returns the mean force of the positions from, inclusive, to, exclusive. */
    public double meanN(long from, long to) {
        double sum = 0;
        for (long p = from; p < to; p++) {
            sum += forceN(p);
        }
        return sum / (to - from);
    }

    /** Refers all kept forces to a session zero that lies {@code shiftN} higher. */
    public void shiftZero(double shiftN) {
        for (long p = first(); p < end; p++) {
            forceN[(int) p & mask] -= shiftN;
        }
    }

    /** Forgets everything. */
    public void clear() {
        end = 0;
    }
}
