package io.heldmark.pipeline;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;

class PingTableTest {
    private final PingTable pings = new PingTable();

    @Test
    void shouldGiveEveryPingOnce() {
        pings.sent(65_535, 100);
        pings.sent(0, 200);
        assertEquals(200, pings.take(0));
        assertEquals(-1, pings.take(0));
        assertEquals(100, pings.take(65_535));
        assertEquals(-1, pings.take(7), "never sent");
    }

    @Test
    void shouldForgetTheOldestAndNotTakeOneForAnother() {
        for (int id = 0; id <= PingTable.SIZE; id++) {
            pings.sent(id, 1000 + id);
        }
        assertEquals(-1, pings.take(0), "its place is that of ping 256 now");
        assertEquals(1000 + PingTable.SIZE, pings.take(PingTable.SIZE));
        assertEquals(1001, pings.take(1));
    }

    @Test
    void shouldForgetAllWithTheConnection() {
        pings.sent(3, 1);
        pings.clear();
        assertEquals(-1, pings.take(3));
    }
}
