package io.heldmark.model;

import java.util.concurrent.atomic.AtomicLongArray;

/** One value for every {@link Counter}; any thread may add and read. */
public final class Counters {
    private final AtomicLongArray values = new AtomicLongArray(Counter.values().length);

    /** Adds 1. */
    public void increment(Counter counter) {
        add(counter, 1);
    }

    /** Adds a number that is not negative. */
    public void add(Counter counter, long amount) {
        values.getAndAdd(counter.id() - 1, amount);
    }

    /** Returns the value now. */
    public long get(Counter counter) {
        return values.get(counter.id() - 1);
    }
}
