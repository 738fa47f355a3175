package io.heldmark.pipeline;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.sun.management.ThreadMXBean;
import io.heldmark.config.Config;
import io.heldmark.link.Link.Binding;
import io.heldmark.link.LinkAddress;
import io.heldmark.link.LinkState;
import io.heldmark.live.LiveFanout;
import io.heldmark.live.StationFacts;
import io.heldmark.live.ViewerConfig;
import io.heldmark.model.Counters;
import io.heldmark.model.Limb;
import io.heldmark.model.SampleBatch;
import io.heldmark.protocol.ByteStreamEncoder;
import io.heldmark.protocol.Wire;
import io.heldmark.testing.EncodedCell;
import io.heldmark.testing.HandClock;
import io.heldmark.testing.MemoryLink;
import java.lang.management.ManagementFactory;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * The whole way of a sample on the acquisition thread, from the queue through recorder and signal path into the live
 * trace, allocates nothing per sample or message.
 *
 * <p><b>Method.</b> Levels and health are reported by time, so many a second at every rate. Two cells run for the same
 * station time at rest, one at twice the rate of the other: what the faster one allocates more is what its additional
 * samples cost. One object of 16 bytes for each message of 10 samples would be 1.6 bytes a sample. Only more counts: the
 * compiler may come to spare one side's reports later than the other's, which can make the faster cell the cheaper one.
 */
class StationCoreAllocationTest {
    private static final int SAMPLES_A_MESSAGE = 10;
    private static final int RUN_S = 300;
    private static final int RUNS = 5;
    private static final ThreadMXBean THREADS = (ThreadMXBean) ManagementFactory.getThreadMXBean();

    @TempDir
    Path folder;

    @Test
    void shouldAllocateNothingPerSample() {
        long slowBytes = Long.MAX_VALUE;
        long fastBytes = Long.MAX_VALUE;
        // The least of several runs, in turn: what the compiler had not yet spared is not counted, on neither side.
        try (Bench slow = new Bench(1000);
                Bench fast = new Bench(2000)) {
            for (int i = 0; i < RUNS; i++) {
                slowBytes = Math.min(slowBytes, slow.run(RUN_S));
                fastBytes = Math.min(fastBytes, fast.run(RUN_S));
            }
            assertEquals((long) RUNS * 2000 * RUN_S, fast.samples, "everything arrived");
        }
        double perSample = (fastBytes - slowBytes) / (1000.0 * RUN_S);
        assertTrue(perSample < 0.8, "bytes per additional sample: " + perSample);
        // 11 reports a second with their lists and records, under 512 bytes each; and two JSON texts for viewers, link
        // and
        // recording, each with a generator and its buffers, under 8 KiB each.
        double perSecond = slowBytes / (double) RUN_S;
        assertTrue(perSecond < 11 * 512 + 2 * 8192, "bytes per second of station time: " + perSecond);
    }

    /** One link through a station's own parts, driven by the test's thread. */
    private final class Bench implements AutoCloseable, StationListener {
        private final ByteStreamEncoder encoder = new ByteStreamEncoder();
        private final byte[] message = new byte[Wire.MAX_MESSAGE_BYTES];
        private final int[] counts = new int[SAMPLES_A_MESSAGE];
        private final HandClock clock = new HandClock();
        private final InputQueue queue = new InputQueue(64, 1);
        private final RecordingDesk recording;
        private final Acquisition acquisition;
        private final long ticksPerMessage;
        private long messages;
        private long samples;

        Bench(int rateHz) {
            ticksPerMessage = SAMPLES_A_MESSAGE * EncodedCell.TICK_RATE_HZ / rateHz;
            Counters counters = new Counters();
            StationOptions options = new StationOptions(Config.defaults(), folder, clock, "test", true);
            List<LinkSetup> setups = LinkSetup.of(
                    List.of(new LinkSetup.Wanted(LinkAddress.parse("tcp:cell:1?binding=bytes"), Limb.LEFT)));
            LiveFanout live = new LiveFanout(
                    new StationFacts("test", "s", false, "", true),
                    new ViewerConfig(8_000_000_000L, 64, 500_000_000L),
                    clock,
                    counters);
            recording = new RecordingDesk(
                    options, setups.stream().map(LinkFacts::write).toList(), live, counters);
            Listeners listeners = new Listeners(counters);
            listeners.add(recording);
            listeners.add(new LiveListener(live));
            listeners.add(new StationView());
            listeners.add(this);
            acquisition = new Acquisition(options, setups, listeners, counters, live, recording, queue);
            new LiveSource(List.of(new MemoryLink(Binding.BYTES)), setups, options, queue, acquisition, counters);
            recording.begin(null, 0);
            queue.put(new StationEvent.LinkChanged(0, LinkState.UP, "", 0), 0);
            queue.take(acquisition);
            put(0, encoder.describe(EncodedCell.describe("cell", 0, 1, rateHz, EncodedCell.TICK_RATE_HZ), message, 0));
        }

        /** Feeds this much station time of a cell at rest and returns the bytes that were allocated. */
        long run(int seconds) {
            long before = THREADS.getThreadAllocatedBytes(Thread.currentThread().getId());
            long end = messages + seconds * EncodedCell.TICK_RATE_HZ / ticksPerMessage;
            while (messages < end) {
                for (int i = 0; i < SAMPLES_A_MESSAGE; i++) {
                    counts[i] = (int) (1000 + (messages * 31 + i * 17L) % 7);
                }
                long tick = messages * ticksPerMessage & 0xFFFFFFFFL;
                int length = encoder.samples(
                        (int) (messages & 0xFFFF), tick, 0, 1, SAMPLES_A_MESSAGE, counts, 0, 3, message, 0);
                messages++;
                clock.advance(ticksPerMessage * 1000);
                put(messages * ticksPerMessage * 1000, length);
            }
            return THREADS.getThreadAllocatedBytes(Thread.currentThread().getId()) - before;
        }

        private void put(long arrivalNs, int length) {
            queue.put(0, arrivalNs, arrivalNs, message, 0, length);
            queue.take(acquisition);
        }

        @Override
        public void onSamples(SampleBatch trace) {
            samples += trace.count;
        }

        @Override
        public void close() {
            recording.close();
        }
    }
}
