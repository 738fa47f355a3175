package io.heldmark.metric;

import static org.junit.jupiter.api.Assertions.assertTrue;

import com.sun.management.ThreadMXBean;
import java.lang.management.ManagementFactory;
import org.junit.jupiter.api.Test;

/** All metrics of a window together allocate its one copy, what the filter of the plateau holds, and their results. */
class MetricCostTest {
    /**
     * Copy: 8 + 8 + 1 bytes a sample; plateau: the stretch, its continuation for the filter, and the part that counts; lift:
     * means of ten samples, collected and kept, and their rises.
     */
    private static final double BYTES_PER_SAMPLE = 17 + 3 * 8 + 1 + 3 * 0.8;

    @Test
    void shouldAllocateNothingPerSampleButTheCopies() {
        InventedWindow brief = window(4);
        InventedWindow lengthy = window(44);
        bytes(brief);
        long perWindow = bytes(brief);
        long grown = bytes(lengthy) - perWindow;
        assertTrue(grown < BYTES_PER_SAMPLE * 40_000, "40,000 samples more cost " + grown + " bytes");
    }

    private static InventedWindow window(double lengthS) {
        return InventedWindow.of(1000, lengthS, t -> t <= 0 ? 0 : 400 * (1 - StrictMath.exp(-t / 0.1)));
    }

    private static long bytes(InventedWindow w) {
        MetricRegistry registry = MetricRegistry.standard();
        ThreadMXBean threads = (ThreadMXBean) ManagementFactory.getThreadMXBean();
        long id = Thread.currentThread().getId();
        long before = threads.getThreadAllocatedBytes(id);
        registry.compute(w);
        return threads.getThreadAllocatedBytes(id) - before;
    }
}
