package io.heldmark.detect;

import static org.junit.jupiter.api.Assertions.assertTrue;

import com.sun.management.ThreadMXBean;
import io.heldmark.calibrate.Calibrator;
import io.heldmark.metric.LevelMeter;
import io.heldmark.model.Contraction;
import io.heldmark.model.SampleBatch;
import io.heldmark.model.Window;
import java.lang.management.ManagementFactory;
import org.junit.jupiter.api.Test;

/** Calibration, level and detection allocate nothing per sample. */
class AllocationTest {
    private static final int BATCHES = 20_000;

    @Test
    void shouldAllocateNothingPerSample() {
        InventedTrace trace = new InventedTrace(1000, 1, 1);
        ContractionDetector detector =
                new ContractionDetector(DetectorConfig.defaults(), trace.channel(), () -> 1, new Deaf());
        LevelMeter meter = new LevelMeter(trace.channel());
        Calibrator calibrator = new Calibrator(100, 0.01, 0.002);
        SampleBatch batch = new SampleBatch(10);
        int[] counts = new int[20];
        run(detector, meter, calibrator, batch, counts, 0); // Learns and warms up.
        ThreadMXBean threads = (ThreadMXBean) ManagementFactory.getThreadMXBean();
        long id = Thread.currentThread().getId();
        long before = threads.getThreadAllocatedBytes(id);
        run(detector, meter, calibrator, batch, counts, BATCHES);
        long bytes = threads.getThreadAllocatedBytes(id) - before;
        assertTrue(bytes < 20_000, "allocated in " + 10 * BATCHES + " samples: " + bytes + " bytes");
    }

    /** 200 s of rest with a slow sway, so that levels are followed and thresholds looked at. */
    private static void run(
            ContractionDetector detector,
            LevelMeter meter,
            Calibrator calibrator,
            SampleBatch batch,
            int[] counts,
            int from) {
        for (int b = from; b < from + BATCHES; b++) {
            for (int i = 0; i < 10; i++) {
                long sample = b * 10L + i;
                batch.timeNs[i] = sample * 1_000_000L;
                counts[2 * i + 1] = (int) (100 + (sample * 7919 % 200) + 3 * (sample / 1000 % 50));
            }
            batch.count = 10;
            calibrator.convert(counts, 1, 2, 10, batch.forceN);
            meter.onBatch(batch);
            detector.onBatch(batch);
            detector.onClock(batch.timeNs[9]);
        }
    }

    private static final class Deaf implements ContractionDetector.Listener {
        @Override
        public void onOpened(Contraction provisional, long atNs) {
            throw new AssertionError("nothing is there");
        }

        @Override
        public void onClosed(Contraction finished, Window window, long atNs) {}

        @Override
        public void onWithdrawn(Contraction withdrawn, long atNs) {}
    }
}
