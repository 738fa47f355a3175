package io.heldmark.live;

import io.heldmark.model.Counter;
import io.heldmark.time.StationClock;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.util.concurrent.atomic.AtomicBoolean;
import org.jspecify.annotations.Nullable;

/**
 * One viewer's place in the live trace, and the events that wait for it.
 *
 * <p><b>How it is sent to.</b> The sender takes {@link #nextEvent} until none waits, then at most one
 * {@link #nextMessage}, and comes back when both are really sent. A viewer that is slow thereby falls behind in the trace
 * rings, which cost it nothing more than a cursor; it then gets pairs of minimum and maximum and is told so.
 *
 * <p><b>Guarantees where threads meet.</b>
 *
 * <ol>
 *   <li>The acquisition thread only calls {@link #offer}, whose lock is never held while something is sent or copied.
 *   <li>Everything about messages is behind the viewer's own lock; the acquisition thread never takes it.
 * </ol>
 */
public final class Viewer {
    /** Messages whose times are remembered until they are drawn. */
    private static final int REMEMBERED = 1024;

    private final LiveFanout fanout;
    private final StationClock clock;
    private final EventQueue events;
    private final Delivery delivery;
    private final long[] receivedNs = new long[REMEMBERED];
    private final long[] takenNs = new long[REMEMBERED];
    private TraceReader[] readers = {};
    private long sequence;
    private long painted;
    private int turn;
    private volatile @Nullable String hello;
    private volatile boolean begun;
    private final AtomicBoolean mustClose = new AtomicBoolean();

    Viewer(LiveFanout fanout, StationClock clock, ViewerConfig config) {
        this.fanout = fanout;
        this.clock = clock;
        events = new EventQueue(config.events());
        delivery = new Delivery(config.reduceAfterNs());
    }

    /** Gives the viewer its first event; nothing is given out before. */
    void begin(String helloJson) {
        hello = helloJson;
        begun = true;
    }

    /** Takes an event for the viewer; the key is absent for what may not be lost. */
    void offer(@Nullable String key, String json) {
        switch (events.offer(key, json)) {
            case TAKEN -> {}
            case COALESCED -> fanout.counters().increment(Counter.VIEWER_EVENTS_COALESCED);
            case FULL -> {
                if (mustClose.compareAndSet(false, true)) {
                    fanout.counters().increment(Counter.VIEWERS_CLOSED);
                }
            }
        }
    }

    /** Returns the next event as JSON text, the first one being {@code hello}; absent where none waits. */
    public synchronized @Nullable String nextEvent() {
        String first = hello;
        if (first != null) {
            hello = null;
            return first;
        }
        return begun ? events.poll() : null;
    }

    /**
     * Puts the next binary message into the buffer, which is cleared first and flipped afterwards.
     *
     * @param into buffer of at least 4 KiB; set to little-endian.
     * @return the message's sequence, from 1; 0 where there is nothing to send.
     */
    public synchronized long nextMessage(ByteBuffer into) {
        into.clear().order(ByteOrder.LITTLE_ENDIAN);
        long oldestNs = Long.MAX_VALUE;
        if (begun && hello == null) {
            long nowNs = clock.nowNs();
            followRings();
            judgeDelivery(nowNs);
            turn++; // every channel is first in its turn, so that a full buffer starves none
            for (int i = 0; i < readers.length; i++) {
                TraceReader reader = readers[(i + turn) % readers.length];
                oldestNs = Math.min(oldestNs, reader.put(into, delivery.reduced()));
                fanout.counters().add(Counter.VIEWER_SAMPLES_SKIPPED, reader.takeSkipped());
            }
            if (into.position() > 0) {
                sequence++;
                receivedNs[slot(sequence)] = oldestNs;
                takenNs[slot(sequence)] = nowNs;
            }
        }
        boolean any = into.position() > 0;
        into.flip();
        return any ? sequence : 0;
    }

    /** Tells that the send of a binary message is finished, not merely begun. */
    public synchronized void sent(long finished) {
        if (remembers(finished)) {
            fanout.arrivalToSent().record(clock.nowNs() - receivedNs[slot(finished)]);
        }
    }

    /** Takes the viewer's word that every message up to this one has been drawn. */
    public synchronized void painted(long newest) {
        if (newest <= painted || newest > sequence) {
            fanout.counters().increment(Counter.VIEWER_MESSAGES_IGNORED);
            return;
        }
        long nowNs = clock.nowNs();
        for (long s = Math.max(painted, sequence - REMEMBERED) + 1; s <= newest; s++) {
            fanout.arrivalToPainted().record(nowNs - receivedNs[slot(s)]);
        }
        painted = newest;
    }

    /** Tells whether this viewer gets pairs of minimum and maximum now. */
    public synchronized boolean reduced() {
        return delivery.reduced();
    }

    /** Returns why the viewer must be closed; absent while all is well. */
    public @Nullable String closeReason() {
        return mustClose.get() ? "this viewer does not take its events" : null;
    }

    /** Leaves; idempotent. */
    public void leave() {
        fanout.leave(this);
    }

    private boolean remembers(long s) {
        return s > 0 && s <= sequence && s > sequence - REMEMBERED;
    }

    private void followRings() {
        TraceRing[] rings = fanout.rings();
        boolean same = rings.length == readers.length;
        for (int i = 0; same && i < rings.length; i++) {
            same = rings[i] == readers[i].ring;
        }
        if (same) {
            return;
        }
        TraceReader[] next = new TraceReader[rings.length];
        for (int i = 0; i < rings.length; i++) {
            next[i] = i < readers.length && readers[i].ring == rings[i] ? readers[i] : new TraceReader(rings[i]);
        }
        readers = next;
    }

    private void judgeDelivery(long nowNs) {
        double backlogNs = 0;
        for (TraceReader reader : readers) {
            backlogNs = Math.max(backlogNs, reader.backlogNs(delivery.reduced()));
        }
        boolean acknowledges = painted > 0 && sequence > painted;
        long unpaintedNs = acknowledges ? nowNs - takenNs[slot(Math.max(painted, sequence - REMEMBERED) + 1)] : 0;
        if (delivery.onBacklog(backlogNs, unpaintedNs, nowNs)) {
            boolean reduced = delivery.reduced();
            if (reduced) {
                fanout.counters().increment(Counter.VIEWERS_REDUCED);
            }
            String reason = reduced ? "this viewer or its network is slow" : "this viewer keeps up again";
            offer("viewer", EventJson.viewer(reduced, reason));
        }
    }

    private static int slot(long s) {
        return (int) (s & (REMEMBERED - 1));
    }
}
