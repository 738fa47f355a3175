package io.heldmark.live;

import java.util.ArrayDeque;
import java.util.Iterator;
import org.jspecify.annotations.Nullable;

/**
 * The events that wait for one viewer: bounded, and what may not be lost is not lost.
 *
 * <p><b>Overflow.</b> An event with a key reports a state, and a newer one of the same key makes it worthless. When the
 * queue is full such an event takes the place of the older one of its key, or the oldest state report makes room. An
 * event without a key may not be lost: where no state report can make room, the offer fails and the viewer must go.
 *
 * <p><b>Threading.</b> Any thread; the lock is held for at most one walk over the queue.
 */
final class EventQueue {
    private record Entry(@Nullable String key, String json) {}

    /** What became of an offered event. */
    enum Offer {
        /** It waits, and nothing was lost. */
        TAKEN,
        /** It waits, and an older state report is gone. */
        COALESCED,
        /** It was not taken: the queue is full of what may not be lost. */
        FULL
    }

    private final int capacity;
    private final ArrayDeque<Entry> entries = new ArrayDeque<>();

    EventQueue(int capacity) {
        this.capacity = capacity;
    }

    /** Offers an event; the key is absent for what may not be lost. */
    synchronized Offer offer(@Nullable String key, String json) {
        if (entries.size() < capacity) {
            entries.addLast(new Entry(key, json));
            return Offer.TAKEN;
        }
        if ((key != null && removeFirst(key)) || removeFirst(null)) {
            entries.addLast(new Entry(key, json));
            return Offer.COALESCED;
        }
        // A state report that finds no other to replace is itself the one that can be spared.
        return key != null ? Offer.COALESCED : Offer.FULL;
    }

    synchronized @Nullable String poll() {
        Entry entry = entries.pollFirst();
        return entry == null ? null : entry.json();
    }

    synchronized int size() {
        return entries.size();
    }

    /** Removes the oldest state report, of one key or of any. */
    private boolean removeFirst(@Nullable String key) {
        for (Iterator<Entry> i = entries.iterator(); i.hasNext(); ) {
            String candidate = i.next().key();
            if (candidate != null && (key == null || key.equals(candidate))) {
                i.remove();
                return true;
            }
        }
        return false;
    }
}
