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
    private static final long NEAR = 1024;
    private static final long NONE = Long.MIN_VALUE / 2;

    private final long[] timeNs;
    private final double[] forceN;
    private final boolean[] gapBefore;
    private final int mask;
    private long end;
    private long newestGap = NONE; // Position of the newest mark, so that none need be looked for where there are none.

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
        newestGap = gap ? end : newestGap;
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
            unmark(end, run);
            done += run;
            end += run;
        }
        if (batch.count > 0 && batch.has(SampleBatch.GAP_BEFORE)) {
            newestGap = end - batch.count;
            gapBefore[(int) newestGap & mask] = true;
        }
    }

    /** Takes marks away that samples a whole ring ago left where the next ones go. */
    private void unmark(long from, int count) {
        if (newestGap >= from - timeNs.length) {
            for (long p = from; p < from + count; p++) {
                gapBefore[(int) p & mask] = false;
            }
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
        long p = newestGap < from ? to : from;
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
        int count = (int) (to - from);
        unmark(end, count);
        addMiddles(raw.timeNs, (int) from, count, width);
        double[] forces = raw.forceN;
        double[] means = forceN;
        double running = sum;
        double share = 1.0 / width;
        for (int k = 0; k < count; k++) {
            int newest = (int) from + k;
            // The difference first: the sum then waits for one addition a sample.
            running += forces[newest & (forces.length - 1)] - forces[(newest - width) & (forces.length - 1)];
            means[((int) end + k) & (means.length - 1)] = running * share;
        }
        end += count;
        return running;
    }

    /** Piece by piece, so that no ring ends within one: a loop over plain arrays is one that a processor does side by side. */
    private void addMiddles(long[] times, int from, int count, int width) {
        int done = 0;
        while (done < count) {
            int first = (from + done + 1 - width) & (times.length - 1);
            int last = (from + done) & (times.length - 1);
            int at = (int) (end + done) & mask;
            int room = Math.min(times.length - Math.max(first, last), timeNs.length - at);
            int run = Math.min(count - done, room);
            middles(times, first, last, timeNs, at, run);
            done += run;
        }
    }

    private static void middles(long[] times, int first, int last, long[] into, int at, int run) {
        for (int k = 0; k < run; k++) {
            long firstNs = times[first + k];
            into[at + k] = firstNs + ((times[last + k] - firstNs) >>> 1);
        }
    }

    /** Returns the ring of forces, to be read only; the position p is at index p modulo its length, which is a power of two. */
    double[] forceRing() {
        return forceN;
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
        long oldest = first();
        long low = Math.max(oldest, end - NEAR);
        long high = end;
        while (low > oldest && timeNs(low) >= atNs) {
            high = low; // What is asked for is mostly near the end: a step that doubles finds where.
            low = Math.max(oldest, end - 2 * (end - low));
        }
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
        newestGap = NONE;
        Arrays.fill(gapBefore, false);
    }
}
