package io.heldmark.web;

import java.io.IOException;
import java.lang.management.GarbageCollectorMXBean;
import java.lang.management.ManagementFactory;
import java.lang.management.OperatingSystemMXBean;
import java.nio.file.Files;
import java.nio.file.Path;

/** What the process itself takes, under the names that Prometheus clients commonly use. */
final class ProcessMetrics {
    private static final Path MEMORY = Path.of("/proc/self/status");

    private ProcessMetrics() {}

    /** Writes the figures. */
    static void write(PrometheusText out) {
        OperatingSystemMXBean system = ManagementFactory.getOperatingSystemMXBean();
        if (system instanceof com.sun.management.OperatingSystemMXBean more) {
            out.counter("process_cpu_seconds_total", "Processor time used.", "", more.getProcessCpuTime() / 1e9);
        }
        out.gauge("process_resident_memory_bytes", "Resident memory.", "", residentBytes());
        out.gauge("jvm_memory_heap_used_bytes", "Heap in use.", "", (double)
                ManagementFactory.getMemoryMXBean().getHeapMemoryUsage().getUsed());
        out.gauge(
                "jvm_threads_current",
                "Threads alive.",
                "",
                ManagementFactory.getThreadMXBean().getThreadCount());
        long collectionMs = 0;
        for (GarbageCollectorMXBean collector : ManagementFactory.getGarbageCollectorMXBeans()) {
            collectionMs += Math.max(0, collector.getCollectionTime());
        }
        out.counter("jvm_gc_seconds_total", "Time spent collecting garbage.", "", collectionMs / 1000.0);
    }

    /** Returns NaN, which is not written, where the system does not say. */
    private static double residentBytes() {
        try {
            for (String line : Files.readAllLines(MEMORY)) {
                if (line.startsWith("VmRSS:")) {
                    return 1024.0 * Long.parseLong(line.replaceAll("[^0-9]", ""));
                }
            }
        } catch (IOException | NumberFormatException e) {
            return Double.NaN; // Not Linux.
        }
        return Double.NaN;
    }
}
