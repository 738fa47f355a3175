package io.heldmark.simulator.truth;

import java.util.ArrayList;
import java.util.List;

/** Collects what was done to a stream. Holds at most {@value #CAPACITY} entries; what comes later is counted only. */
public final class DamageLog {
    private static final int CAPACITY = 200_000;

    private final List<DamageTruth> entries = new ArrayList<>();
    private long dropped;

    /** Adds an entry. */
    public void add(DamageTruth entry) {
        if (entries.size() < CAPACITY) {
            entries.add(entry);
        } else {
            dropped++;
        }
    }

    /**
     * Adds bytes that nobody took; joined to the entry before where that ended less than a second ago.
     *
     * @param atS when they were due, in seconds.
     * @param bytes how many.
     */
    public void addUnread(double atS, int bytes) {
        DamageTruth last = entries.isEmpty() ? null : entries.get(entries.size() - 1);
        if (last != null && last.kind().equals("unread") && atS - last.toS() < 1) {
            entries.set(
                    entries.size() - 1, new DamageTruth("unread", last.fromS(), atS, -1, 0, 0, last.bytes() + bytes));
        } else {
            add(new DamageTruth("unread", atS, atS, -1, 0, 0, bytes));
        }
    }

    /** Returns the entries in the order in which they were made. */
    public List<DamageTruth> entries() {
        return List.copyOf(entries);
    }

    /** Returns how many entries found no room. */
    public long dropped() {
        return dropped;
    }
}
