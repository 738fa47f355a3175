package io.heldmark.pipeline;

import java.util.concurrent.locks.Condition;
import java.util.concurrent.locks.ReentrantLock;
import org.jspecify.annotations.Nullable;

/**
 * The one queue between everything that feeds the station and the acquisition thread.
 *
 * <p><b>Guarantees where threads meet.</b>
 *
 * <ol>
 *   <li>Inputs come out in the order in which they went in; that order is the order of the recording.
 *   <li>{@link #offer} never waits; {@link #put}, for replays, waits and never drops.
 *   <li>A chunk that does not fit is counted by the caller of {@link #offer}; the next chunk of its link that fits comes
 *       out behind the number of bytes lost.
 *   <li>Chunks are copied into buffers that live as long as the queue; nothing is allocated per chunk.
 * </ol>
 */
final class InputQueue {
    /** Most bytes of one chunk; a longer read is split. */
    static final int CHUNK_BYTES = 2048;

    /** Takes inputs on the acquisition thread. */
    interface Consumer {
        /** Takes bytes of a link; {@code lostBefore} bytes of it did not fit before them. */
        void onChunk(int link, long arrivalNs, long receivedNs, byte[] bytes, int offset, int length, long lostBefore);

        /** Takes an event. */
        void onEvent(StationEvent event, long receivedNs);

        /** Runs a task between two inputs. */
        void onTask(Runnable task);
    }

    private static final class Slot {
        private byte @Nullable [] bytes;
        private int length;
        private int link;
        private long atNs;
        private long receivedNs;
        private long lostBefore;
        private @Nullable StationEvent event;
        private @Nullable Runnable task;
    }

    private final Slot[] slots;
    private final long[] lostBytes;
    private final ReentrantLock lock = new ReentrantLock();
    private final Condition notEmpty = lock.newCondition();
    private final Condition notFull = lock.newCondition();
    private long head;
    private long tail;
    private boolean closed;

    InputQueue(int capacity, int links) {
        slots = new Slot[capacity];
        for (int i = 0; i < capacity; i++) {
            slots[i] = new Slot();
        }
        lostBytes = new long[links];
    }

    /** Adds bytes of a link, or returns false and remembers how many were lost; at most {@link #CHUNK_BYTES}. */
    boolean offer(int link, long arrivalNs, long receivedNs, byte[] bytes, int offset, int length) {
        return add(false, link, arrivalNs, receivedNs, bytes, offset, length);
    }

    /** Adds an event, or returns false where the queue is full or closed. */
    boolean offer(StationEvent event, long receivedNs) {
        return add(false, event, null, receivedNs);
    }

    /** Adds a task, or returns false where the queue is full or closed. */
    boolean offer(Runnable task) {
        return add(false, null, task, 0);
    }

    /** Adds bytes of a link and waits for a place; returns false where the queue was closed meanwhile. */
    boolean put(int link, long arrivalNs, long receivedNs, byte[] bytes, int offset, int length) {
        return add(true, link, arrivalNs, receivedNs, bytes, offset, length);
    }

    /** Adds an event and waits for a place; returns false where the queue was closed meanwhile. */
    boolean put(StationEvent event, long receivedNs) {
        return add(true, event, null, receivedNs);
    }

    /** Adds a task and waits for a place; returns false where the queue was closed meanwhile. */
    boolean put(Runnable task) {
        return add(true, null, task, 0);
    }

    /** Hands the next input to the consumer; waits for one. Returns false once it is closed and empty. */
    boolean take(Consumer consumer) {
        Slot slot;
        lock.lock();
        try {
            while (head == tail && !closed) {
                notEmpty.awaitUninterruptibly();
            }
            if (head == tail) {
                return false;
            }
            slot = slots[(int) (head % slots.length)];
        } finally {
            lock.unlock();
        }
        try {
            hand(slot, consumer);
        } finally {
            lock.lock();
            try {
                head++;
                notFull.signal();
            } finally {
                lock.unlock();
            }
        }
        return true;
    }

    /** Takes no more inputs; what is inside still comes out. */
    void close() {
        lock.lock();
        try {
            closed = true;
            notEmpty.signalAll();
            notFull.signalAll();
        } finally {
            lock.unlock();
        }
    }

    private static void hand(Slot slot, Consumer consumer) {
        StationEvent event = slot.event;
        Runnable task = slot.task;
        byte[] bytes = slot.bytes;
        slot.event = null;
        slot.task = null;
        if (event != null) {
            consumer.onEvent(event, slot.receivedNs);
        } else if (task != null) {
            consumer.onTask(task);
        } else if (bytes != null) {
            consumer.onChunk(slot.link, slot.atNs, slot.receivedNs, bytes, 0, slot.length, slot.lostBefore);
        }
    }

    private boolean add(
            boolean waits, int link, long arrivalNs, long receivedNs, byte[] bytes, int offset, int length) {
        lock.lock();
        try {
            if (!hasPlace(waits)) {
                lostBytes[link] += length;
                return false;
            }
            Slot slot = next();
            byte[] buffer = slot.bytes;
            if (buffer == null) {
                buffer = new byte[CHUNK_BYTES]; // Once for every slot that is ever used.
                slot.bytes = buffer;
            }
            System.arraycopy(bytes, offset, buffer, 0, length);
            slot.length = length;
            slot.link = link;
            slot.atNs = arrivalNs;
            slot.lostBefore = lostBytes[link];
            lostBytes[link] = 0;
            added(slot, receivedNs);
            return true;
        } finally {
            lock.unlock();
        }
    }

    private boolean add(boolean waits, @Nullable StationEvent event, @Nullable Runnable task, long receivedNs) {
        lock.lock();
        try {
            if (!hasPlace(waits)) {
                return false;
            }
            Slot slot = next();
            slot.event = event;
            slot.task = task;
            added(slot, receivedNs);
            return true;
        } finally {
            lock.unlock();
        }
    }

    /** Tells whether the next slot is free, after a wait where that is wanted; a closed queue has no place. */
    private boolean hasPlace(boolean waits) {
        while (waits && isFull() && !closed) {
            notFull.awaitUninterruptibly();
        }
        return !closed && !isFull();
    }

    private boolean isFull() {
        return tail - head == slots.length;
    }

    private Slot next() {
        return slots[(int) (tail % slots.length)];
    }

    private void added(Slot slot, long receivedNs) {
        slot.receivedNs = receivedNs;
        tail++;
        notEmpty.signal();
    }
}
