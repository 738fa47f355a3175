package io.heldmark.live;

import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

class DeliveryTest {
    private static final long MS = 1_000_000L;

    private final Delivery delivery = new Delivery(500 * MS);

    private boolean at(long nowMs, long backlogMs, long unpaintedMs) {
        return delivery.onBacklog(backlogMs * 1e6, unpaintedMs * MS, nowMs * MS);
    }

    @Test
    void shouldReduceWhereTheTraceWaitsLongerThanTheLimit() {
        assertFalse(at(0, 500, 0));
        assertFalse(delivery.reduced());
        assertTrue(at(10, 501, 0));
        assertTrue(delivery.reduced());
        assertFalse(at(20, 9000, 0), "told once");
    }

    @Test
    void shouldReduceWhereTheDrawingIsFarBehind() {
        assertFalse(at(0, 0, 2000));
        assertTrue(at(10, 0, 2001));
        assertTrue(delivery.reduced());
    }

    @Test
    void shouldBeFullAgainAfterThreeSecondsOfKeepingUp() {
        at(0, 600, 0);
        assertFalse(at(1000, 100, 499));
        assertFalse(at(3999, 124, 499));
        assertTrue(delivery.reduced());
        assertTrue(at(4000, 100, 0));
        assertFalse(delivery.reduced());
    }

    @Test
    void shouldBeginToCountAnewWhereItFallsBehindMeanwhile() {
        at(0, 600, 0);
        at(1000, 100, 0);
        at(3000, 125, 0); // a quarter of the limit is not keeping up
        assertFalse(at(4500, 0, 0));
        assertFalse(at(7499, 0, 0));
        assertTrue(at(7500, 0, 0));
        at(8000, 600, 0);
        at(9000, 0, 0);
        at(10_000, 0, 500);
        assertFalse(at(12_500, 0, 0), "a drawing that is behind by the limit is not keeping up");
        assertFalse(at(13_000, 501, 0));
        assertFalse(at(16_500, 0, 0));
        assertTrue(at(19_500, 0, 0));
    }
}
