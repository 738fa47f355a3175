package io.heldmark.protocol;

/**
 * Judges every samples message by its sequence number: next in order, after a gap, again, late, or after a restart.
 *
 * <p><b>Method.</b> The distance is the sequence number less that of the newest message taken, as a signed 16-bit
 * number. 0 with the same tick is a duplicate and 1 to {@value #WINDOW} back is late; both are dropped and counted. One
 * forward is in order, more is a gap. The device restarted, and counting starts anew without a gap, where
 * <ol>
 *   <li>the distance is more than {@value #WINDOW} back,
 *   <li>it is 0 and the ticks differ,
 *   <li>it is more than {@value #WINDOW} forward and the tick did not move forward,
 *   <li>a describe message came since the newest message, and the distance is back, or it is more than
 *       {@value #WINDOW} forward, or it is forward and the tick is not.
 * </ol>
 *
 * <p><b>Guarantees.</b> Between restarts, messages taken plus missing is the number of sequence steps. After a restart
 * that no describe announces at most {@value #WINDOW} messages are dropped.
 *
 * <p><b>Source.</b> {@code protocol-spec/gaugeline-v1.md}, section "Sequence".
 */
final class SequenceTracker {
    /** Largest distance that counts as loss or lateness whatever the tick says, in frames. */
    static final int WINDOW = 64;

    private final DecoderCounters counters;
    private boolean started;
    private boolean described;
    private int newest;
    private long newestTick;

    SequenceTracker(DecoderCounters counters) {
        this.counters = counters;
    }

    /** Takes note of a describe message, which a device sends after power-up. */
    void onDescribe() {
        described = true;
    }

    /** Forgets the newest message. */
    void reset() {
        started = false;
        described = false;
    }

    /**
     * Counts a samples message and returns whether to hand it on.
     *
     * @param sequence sequence number, 0 to 65535.
     * @param tick tick of the first sample, unsigned 32 bit.
     */
    boolean take(int sequence, long tick) {
        if (started && !judge((short) (sequence - newest), (int) (tick - newestTick))) {
            return false;
        }
        started = true;
        described = false;
        newest = sequence;
        newestTick = tick;
        return true;
    }

    private boolean judge(int distance, int tickDistance) {
        if (restarted(distance, tickDistance)) {
            counters.restarts++;
            return true;
        }
        if (distance == 0) {
            counters.duplicates++;
        } else if (distance < 0) {
            counters.reordered++;
        } else if (distance > 1) {
            counters.gaps++;
            counters.missingFrames += distance - 1;
        }
        return distance > 0;
    }

    private boolean restarted(int distance, int tickDistance) {
        boolean far = distance > WINDOW;
        boolean tickForward = tickDistance > 0;
        if (distance < -WINDOW || (distance == 0 && tickDistance != 0) || (far && !tickForward)) {
            return true;
        }
        return described && (distance < 0 || far || (distance > 0 && !tickForward));
    }
}
