package io.heldmark.align;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.sun.management.ThreadMXBean;
import java.lang.management.ManagementFactory;
import org.junit.jupiter.api.Test;

/** Nothing is allocated for a frame or a ping, and the same calls give the same bits. */
class ClockAlignerAllocationTest {
    private static final double S = 60;

    @Test
    void shouldAllocateNothingPerArrival() {
        SyntheticArrivals input = input();
        feed(new ClockAligner(SyntheticArrivals.TICK_RATE_HZ), input); // Classes are loaded.
        ClockAligner aligner = new ClockAligner(SyntheticArrivals.TICK_RATE_HZ);
        ThreadMXBean threads = (ThreadMXBean) ManagementFactory.getThreadMXBean();
        long id = Thread.currentThread().getId();

        long before = threads.getThreadAllocatedBytes(id);
        feed(aligner, input);
        long bytes = threads.getThreadAllocatedBytes(id) - before;

        int arrivals = input.arrivals().size();
        assertTrue(bytes < arrivals, "allocated for " + arrivals + " arrivals: " + bytes + " bytes");
    }

    @Test
    void shouldGiveTheSameBitsForTheSameCalls() {
        ClockAligner one = new ClockAligner(SyntheticArrivals.TICK_RATE_HZ);
        ClockAligner other = new ClockAligner(SyntheticArrivals.TICK_RATE_HZ);
        long lastTick = feed(one, input());
        feed(other, input());

        assertEquals(one.stationNs(lastTick), other.stationNs(lastTick));
        assertEquals(
                Double.doubleToRawLongBits(one.standardUncertaintyNs()),
                Double.doubleToRawLongBits(other.standardUncertaintyNs()));
    }

    private static SyntheticArrivals input() {
        return new SyntheticArrivals(LinkKind.radio(7.5, 7), 8_500_000L, S, new SyntheticArrivals.Pings(20, S), 20);
    }

    private static long feed(ClockAligner aligner, SyntheticArrivals input) {
        long lastTick = 0;
        for (int i = 0; i < input.arrivals().size(); i++) {
            SyntheticArrivals.Arrival a = input.arrivals().get(i);
            a.into(aligner);
            lastTick = a.lastTick();
        }
        return lastTick;
    }
}
