package io.heldmark.link.ble;

import io.heldmark.time.StationClock;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.Condition;
import java.util.concurrent.locks.ReentrantLock;

/**
 * Notified values on their way from the threads of the stack to the link's reader, each with its arrival.
 *
 * <p><b>Bound.</b> Holds {@value #SLOTS} values, about five seconds at 200 a second; what does not fit is dropped and counted,
 * and shows as a gap in the sequence. No allocation after the start.
 */
final class ValueRing {
    static final int SLOTS = 1024;

    private final byte[][] values = new byte[SLOTS][GattNames.LONGEST_VALUE_BYTES + 1];
    private final int[] lengths = new int[SLOTS];
    private final long[] arrivals = new long[SLOTS];
    private final StationClock clock;
    private final ReentrantLock lock = new ReentrantLock();
    private final Condition changed = lock.newCondition();
    private int first;
    private int count;
    private long dropped;
    private boolean ended;

    /** Makes an empty ring whose values are stamped by a clock. */
    ValueRing(StationClock clock) {
        this.clock = clock;
    }

    /** Takes a value; false where it was dropped, because the ring is full or the value too long. */
    boolean offer(byte characteristic, byte[] value, int length) {
        lock.lock();
        try {
            if (count == SLOTS || length > GattNames.LONGEST_VALUE_BYTES || ended) {
                dropped++;
                return false;
            }
            int slot = (first + count) % SLOTS;
            values[slot][0] = characteristic;
            System.arraycopy(value, 0, values[slot], 1, length);
            lengths[slot] = length + 1;
            arrivals[slot] = clock.nowNs(); // Under the lock, so that arrivals never go back.
            count++;
            changed.signal();
            return true;
        } finally {
            lock.unlock();
        }
    }

    /**
     * Waits for a value.
     *
     * @param into takes the characteristic's byte and the value.
     * @param arrivalNs takes the arrival at index 0.
     * @param waitMs how long to wait at most.
     * @return bytes; 0 where none came; -1 where none will come any more.
     */
    int take(byte[] into, long[] arrivalNs, long waitMs) throws InterruptedException {
        lock.lock();
        try {
            long leftNs = TimeUnit.MILLISECONDS.toNanos(waitMs);
            while (count == 0 && !ended && leftNs > 0) {
                leftNs = changed.awaitNanos(leftNs);
            }
            if (count == 0) {
                return ended ? -1 : 0;
            }
            int length = lengths[first];
            System.arraycopy(values[first], 0, into, 0, length);
            arrivalNs[0] = arrivals[first];
            first = (first + 1) % SLOTS;
            count--;
            return length;
        } finally {
            lock.unlock();
        }
    }

    /** Lets the reader take what is there, and then end. */
    void end() {
        lock.lock();
        try {
            ended = true;
            changed.signal();
        } finally {
            lock.unlock();
        }
    }

    /** Returns how many values were dropped. */
    long dropped() {
        lock.lock();
        try {
            return dropped;
        } finally {
            lock.unlock();
        }
    }
}
