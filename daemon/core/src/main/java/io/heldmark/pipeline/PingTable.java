package io.heldmark.pipeline;

import java.util.Arrays;

/** The pings of one link that wait for their answer; the newest {@value #SIZE}. */
final class PingTable {
    /** Pings that can wait; at 50 a second those of more than five seconds. */
    static final int SIZE = 256;

    private final int[] ids = new int[SIZE];
    private final long[] sentNs = new long[SIZE];
    private final boolean[] waiting = new boolean[SIZE];

    void sent(int pingId, long atNs) {
        int at = pingId & (SIZE - 1);
        ids[at] = pingId;
        sentNs[at] = atNs;
        waiting[at] = true;
    }

    /** Returns when the ping was sent, once; -1 where no such ping waits. */
    long take(int pingId) {
        int at = pingId & (SIZE - 1);
        if (!waiting[at] || ids[at] != pingId) {
            return -1;
        }
        waiting[at] = false;
        return sentNs[at];
    }

    void clear() {
        Arrays.fill(waiting, false);
    }
}
