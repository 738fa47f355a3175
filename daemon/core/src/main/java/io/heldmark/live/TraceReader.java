package io.heldmark.live;

import java.nio.ByteBuffer;

/**
 * One viewer's place in one channel's trace, and the blocks of {@code docs/live-protocol.md} made from there on.
 *
 * <p><b>Threading.</b> One thread at a time.
 */
final class TraceReader {
    /** Bytes of a block's header. */
    static final int HEADER_BYTES = 24;

    /** Pairs a second and channel that a reduced viewer gets, at most. */
    private static final double PAIRS_PER_S = 50;

    private static final byte VERSION = 1;
    private static final byte KIND_SAMPLES = 1;
    private static final byte KIND_PAIRS = 2;
    private static final int LEAST_SAMPLES_A_PAIR = 4;

    final TraceRing ring;
    private final int samplesPerPair;
    private long cursor;
    private long skipped;
    private long oldestReceivedNs;

    /** Makes a reader that begins with the next sample. */
    TraceReader(TraceRing ring) {
        this.ring = ring;
        cursor = ring.written();
        samplesPerPair = (int) Math.max(LEAST_SAMPLES_A_PAIR, Math.ceil(1e9 / ring.periodNs / PAIRS_PER_S));
    }

    /**
     * Returns how much trace waits that could be sent, in nanoseconds.
     *
     * @param reduced whether pairs are sent: then the samples of a pair that is not full yet wait for the trace and not
     *     for the viewer.
     */
    double backlogNs(boolean reduced) {
        long waiting = ring.written() - cursor;
        return (reduced ? Math.max(0, waiting - (samplesPerPair - 1)) : waiting) * ring.periodNs;
    }

    /** Returns and clears the number of samples that were overwritten before they were read. */
    long takeSkipped() {
        long n = skipped;
        skipped = 0;
        return n;
    }

    /**
     * Puts blocks into the buffer until nothing waits or no room is left.
     *
     * @param into buffer, little-endian.
     * @param reduced whether to put pairs of minimum and maximum.
     * @return when the oldest sample put was received; {@link Long#MAX_VALUE} where none was put.
     */
    long put(ByteBuffer into, boolean reduced) {
        oldestReceivedNs = Long.MAX_VALUE;
        long end = ring.written();
        skipOverwritten(end);
        boolean more = true;
        while (more && cursor < end) {
            int start = into.position();
            int taken = reduced ? putPairs(into, end) : putSamples(into, end);
            if (taken > 0 && !ring.stillHolds(cursor)) {
                into.position(start); // overwritten while it was copied
                skipOverwritten(ring.written());
                return oldestReceivedNs;
            }
            if (taken > 0) {
                oldestReceivedNs = Math.min(oldestReceivedNs, ring.receivedNs(cursor));
            }
            cursor += taken;
            more = taken > 0;
        }
        return oldestReceivedNs;
    }

    /** Skips what is overwritten, and a quarter more, which would be next while it is copied. */
    private void skipOverwritten(long written) {
        if (written - cursor > ring.capacity()) {
            long next = written - ring.capacity() * 3L / 4;
            skipped += next - cursor;
            cursor = next;
        }
    }

    private int putSamples(ByteBuffer into, long end) {
        int room = (into.remaining() - HEADER_BYTES) / Float.BYTES;
        int n = run(Math.min(end, cursor + Math.max(0, room)));
        if (n == 0) {
            return 0;
        }
        header(into, KIND_SAMPLES, n, n > 1 ? spacingNs(n) : ring.periodNs);
        for (int i = 0; i < n; i++) {
            into.putFloat(ring.forceN(cursor + i));
        }
        return n;
    }

    private int putPairs(ByteBuffer into, long end) {
        int n = run(end);
        int size = samplesPerPair;
        if (n < size) {
            if (cursor + n == end) {
                return 0; // the pair is not full yet
            }
            size = n; // a gap ends it early
        }
        int room = (into.remaining() - HEADER_BYTES) / (2 * Float.BYTES);
        int pairs = Math.min(n / size, room);
        if (pairs <= 0) {
            return 0;
        }
        double spacingNs = n > 1 ? spacingNs(n) : ring.periodNs;
        header(into, KIND_PAIRS, pairs, size * spacingNs);
        for (int pair = 0; pair < pairs; pair++) {
            putPair(into, cursor + (long) pair * size, size);
        }
        return pairs * size;
    }

    private void putPair(ByteBuffer into, long first, int size) {
        float minimum = ring.forceN(first);
        float maximum = minimum;
        for (int i = 1; i < size; i++) {
            float value = ring.forceN(first + i);
            minimum = Math.min(minimum, value);
            maximum = Math.max(maximum, value);
        }
        into.putFloat(minimum).putFloat(maximum);
    }

    /** Returns the number of samples from the cursor to the next gap or the end. */
    private int run(long end) {
        long at = cursor;
        if (at >= end) {
            return 0;
        }
        long before = ring.timeNs(at);
        for (at++; at < end; at++) {
            long now = ring.timeNs(at);
            if (ring.gapBefore(at) || now - before > 1.5 * ring.periodNs) {
                break;
            }
            before = now;
        }
        return (int) (at - cursor);
    }

    private double spacingNs(int n) {
        return (double) (ring.timeNs(cursor + n - 1) - ring.timeNs(cursor)) / (n - 1);
    }

    private void header(ByteBuffer into, byte kind, int count, double periodNs) {
        into.put(VERSION).put(kind).putShort((short) ring.channel).putInt(count);
        into.putLong(ring.timeNs(cursor)).putDouble(periodNs);
    }
}
