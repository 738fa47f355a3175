package io.heldmark.live;

import io.heldmark.model.SampleBatch;
import java.lang.invoke.VarHandle;

/**
 * The newest samples of one channel's live trace, kept once for all viewers.
 *
 * <p><b>Guarantees where threads meet.</b>
 *
 * <ol>
 *   <li>One thread appends; it waits for nobody and takes no lock.
 *   <li>Any number of threads read, each with its own cursor, a running number of samples since the start.
 *   <li>The writer claims places before it fills them and publishes them afterwards. A reader copies what it wants and
 *       then asks {@link #stillHolds}: true means that no copied place had been claimed again by then, so that the copy is
 *       whole; false means that the copy must be thrown away.
 * </ol>
 *
 * <p><b>Overflow.</b> The oldest samples are overwritten; a reader that needed them skips and counts them.
 */
final class TraceRing {
    final int channel;
    final double periodNs;
    private final int mask;
    private final long[] timeNs;
    private final long[] receivedNs;
    private final float[] forceN;
    private final boolean[] gapBefore;
    private volatile long claimed;
    private volatile long written;

    /**
     * Makes a ring.
     *
     * @param channel station-wide channel number.
     * @param periodNs nominal time between samples.
     * @param minimumCapacity least number of samples; rounded up to a power of two.
     */
    TraceRing(int channel, double periodNs, int minimumCapacity) {
        this.channel = channel;
        this.periodNs = periodNs;
        int capacity = Integer.highestOneBit(Math.max(1024, minimumCapacity) - 1) << 1;
        mask = capacity - 1;
        timeNs = new long[capacity];
        receivedNs = new long[capacity];
        forceN = new float[capacity];
        gapBefore = new boolean[capacity];
    }

    /**
     * Appends a batch.
     *
     * @param batch the samples, at most half the capacity.
     * @param batchReceivedNs when the station really got the bytes; differs from the batch's arrival in a replay.
     */
    void append(SampleBatch batch, long batchReceivedNs) {
        long first = written;
        claimed = first + batch.count;
        VarHandle.storeStoreFence(); // the places are claimed before they change
        for (int i = 0; i < batch.count; i++) {
            int at = (int) (first + i) & mask;
            timeNs[at] = batch.timeNs[i];
            receivedNs[at] = batchReceivedNs;
            forceN[at] = (float) batch.forceN[i];
            gapBefore[at] = i == 0 && batch.has(SampleBatch.GAP_BEFORE | SampleBatch.CLOCK_RESTARTED);
        }
        written = first + batch.count;
    }

    int capacity() {
        return mask + 1;
    }

    /** Returns the number of samples written since the start. */
    long written() {
        return written;
    }

    /** Tells whether everything from this cursor on is as it was when it was copied. */
    boolean stillHolds(long cursor) {
        VarHandle.loadLoadFence(); // the copies are read before the claim
        return claimed - cursor <= capacity();
    }

    long timeNs(long cursor) {
        return timeNs[(int) cursor & mask];
    }

    long receivedNs(long cursor) {
        return receivedNs[(int) cursor & mask];
    }

    float forceN(long cursor) {
        return forceN[(int) cursor & mask];
    }

    /** Tells whether samples are missing right before this one. */
    boolean gapBefore(long cursor) {
        return gapBefore[(int) cursor & mask];
    }
}
