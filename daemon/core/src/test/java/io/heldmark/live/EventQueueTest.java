package io.heldmark.live;

import static io.heldmark.live.EventQueue.Offer.COALESCED;
import static io.heldmark.live.EventQueue.Offer.FULL;
import static io.heldmark.live.EventQueue.Offer.TAKEN;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;

class EventQueueTest {
    private final EventQueue queue = new EventQueue(3);

    private List<String> all() {
        List<String> all = new ArrayList<>();
        for (String json = queue.poll(); json != null; json = queue.poll()) {
            all.add(json);
        }
        return all;
    }

    @Test
    void shouldGiveEventsInOrderAndLoseNoneWhileThereIsRoom() {
        assertEquals(TAKEN, queue.offer("level", "l1"));
        assertEquals(TAKEN, queue.offer(null, "mark"));
        assertEquals(TAKEN, queue.offer("level", "l2"));
        assertEquals(3, queue.size());
        assertEquals(List.of("l1", "mark", "l2"), all());
    }

    @Test
    void shouldReplaceTheOldestReportOfTheSameState() {
        queue.offer("link a", "a1");
        queue.offer("level", "l1");
        queue.offer("level", "l2");
        assertEquals(COALESCED, queue.offer("level", "l3"));
        assertEquals(List.of("a1", "l2", "l3"), all());
    }

    @Test
    void shouldReplaceTheOldestReportOfAnyStateWhereThereIsNoneOfItsOwn() {
        queue.offer(null, "mark");
        queue.offer("link a", "a1");
        queue.offer("level", "l1");
        assertEquals(COALESCED, queue.offer("recording", "r1"));
        assertEquals(List.of("mark", "l1", "r1"), all());
    }

    @Test
    void shouldMakeRoomForWhatMayNotBeLost() {
        queue.offer("level", "l1");
        queue.offer(null, "contraction 1");
        queue.offer("level", "l2");
        assertEquals(COALESCED, queue.offer(null, "contraction 2"));
        assertEquals(COALESCED, queue.offer(null, "contraction 3"));
        assertEquals(FULL, queue.offer(null, "contraction 4"));
        assertEquals(COALESCED, queue.offer("level", "l3"), "a report of a state is what can be spared");
        assertEquals(List.of("contraction 1", "contraction 2", "contraction 3"), all());
        assertEquals(TAKEN, queue.offer(null, "contraction 5"));
    }
}
