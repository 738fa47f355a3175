package io.heldmark.decode;

import io.heldmark.protocol.Wire;

/**
 * Puts samples messages of a Bluetooth LE link back into their order before they are decoded.
 *
 * <p><b>Method.</b> A message whose number is up to {@value #MOST_HELD} ahead of the next one due is held. What is held
 * goes on as soon as the missing one has come, when {@value #MOST_HELD} are held and another comes, or when the oldest
 * has waited for {@link #LONGEST_WAIT_NS}: a missing message costs that much delay once and never a sample. What cannot
 * be put in order, such as duplicates, messages later than that, jumps and restarts, goes on as it came; the decoder
 * judges and counts it. A describe message lets everything go on, for the device may have been powered up again.
 *
 * <p><b>Times.</b> Each message keeps its own arrival, but arrivals handed on never go back: one put into its place
 * counts as arrived no earlier than the ones before it.
 *
 * <p><b>Determinism.</b> Driven by arrivals and clock inputs alone. Nothing is allocated after construction.
 *
 * <p><b>Source.</b> {@code protocol-spec/gaugeline-v1.md}, section "Sequence".
 */
final class ReorderWindow {
    /** Takes the values in their order. */
    interface Taker {
        /** Takes one value; the bytes are the taker's until it returns. */
        void take(long arrivalNs, byte[] bytes, int offset, int length);
    }

    /** Messages held at most. */
    static final int MOST_HELD = 4;

    /** The longest connection interval in use; a central is not told the one that was negotiated. */
    static final long LONGEST_WAIT_NS = 50_000_000L;

    /** Distance, as the specification counts it, below which a number belongs to a device that began anew. */
    private static final int LATEST = -64;

    private static final int SEQUENCE_AT = 1; // behind the byte that names the characteristic

    private final Taker taker;
    private final Held[] held = new Held[MOST_HELD]; // by number; those of equal number as they came
    private int count;
    private boolean known;
    private int next;
    private long newestNs = Long.MIN_VALUE;
    private long putBack;

    ReorderWindow(Taker taker) {
        this.taker = taker;
        for (int i = 0; i < MOST_HELD; i++) {
            held[i] = new Held();
        }
    }

    /** Takes a value as it arrived. */
    void accept(long arrivalNs, byte[] bytes, int offset, int length) {
        onClock(arrivalNs);
        int characteristic = length > 0 ? bytes[offset] & 0xFF : -1;
        if (characteristic == Wire.GATT_DESCRIBE) {
            flush();
            known = false;
        }
        if (characteristic != Wire.GATT_STREAM || length < SEQUENCE_AT + 2 || length > Held.BYTES) {
            hand(arrivalNs, bytes, offset, length);
            return;
        }
        int sequence = (bytes[offset + SEQUENCE_AT] & 0xFF) | ((bytes[offset + SEQUENCE_AT + 1] & 0xFF) << 8);
        while (known && count == MOST_HELD && ahead(sequence) > 0) {
            next = held[0].sequence; // the missing one has had its time
            drain();
        }
        int ahead = ahead(sequence);
        if (known && ahead > 0 && ahead <= MOST_HELD) {
            hold(arrivalNs, sequence, bytes, offset, length);
            return;
        }
        boolean late = known && ahead < 0 && ahead + 1 >= LATEST;
        if (!late) {
            if (known && ahead != 0) {
                flush();
            }
            known = true;
            next = (sequence + 1) & 0xFFFF;
        }
        hand(arrivalNs, bytes, offset, length);
        if (ahead == 0 && count > 0) {
            putBack++;
        }
        drain();
    }

    /** Lets go what has waited long enough. */
    void onClock(long nowNs) {
        boolean waitedOut = false;
        for (int i = 0; i < count; i++) {
            waitedOut |= nowNs - held[i].arrivalNs >= LONGEST_WAIT_NS;
        }
        if (waitedOut) {
            flush();
        }
    }

    /** Lets everything go, in order. */
    void flush() {
        while (count > 0) {
            next = held[0].sequence;
            drain();
        }
    }

    /** Forgets what is held; the decoder will count it as missing. */
    void drop() {
        count = 0;
        known = false;
    }

    /** Begins anew: the link was down or bytes were lost. */
    void restart() {
        flush();
        known = false;
    }

    /** Returns the messages that came late and went to their places, in total. */
    long putBack() {
        return putBack;
    }

    private int ahead(int sequence) {
        return (short) (sequence - next);
    }

    private void hold(long arrivalNs, int sequence, byte[] bytes, int offset, int length) {
        int at = count;
        while (at > 0 && (short) (sequence - held[at - 1].sequence) < 0) {
            at--;
        }
        if (at < count) {
            putBack++;
        }
        Held free = held[count];
        System.arraycopy(held, at, held, at + 1, count - at);
        held[at] = free;
        count++;
        free.arrivalNs = arrivalNs;
        free.sequence = sequence;
        free.length = length;
        System.arraycopy(bytes, offset, free.bytes, 0, length);
    }

    /** Hands on what is due, duplicates of it included. */
    private void drain() {
        while (count > 0 && ahead(held[0].sequence) <= 0) {
            Held first = held[0];
            System.arraycopy(held, 1, held, 0, count - 1);
            count--;
            held[count] = first;
            if (ahead(first.sequence) == 0) {
                next = (first.sequence + 1) & 0xFFFF;
            }
            hand(first.arrivalNs, first.bytes, 0, first.length);
        }
    }

    private void hand(long arrivalNs, byte[] bytes, int offset, int length) {
        newestNs = Math.max(newestNs, arrivalNs);
        taker.take(newestNs, bytes, offset, length);
    }

    private static final class Held {
        static final int BYTES = 1 + Wire.MAX_VALUE_BYTES;

        final byte[] bytes = new byte[BYTES];
        long arrivalNs;
        int sequence;
        int length;
    }
}
