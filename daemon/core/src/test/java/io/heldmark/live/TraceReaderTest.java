package io.heldmark.live;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.model.SampleBatch;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;

/** 1000 samples a second: a pair holds 20. */
class TraceReaderTest {
    private final TraceRing ring = new TraceRing(5, 1e6, 1024);
    private final Batches trace = new Batches(5, 1000);
    private final ByteBuffer buffer = ByteBuffer.allocate(64 * 1024).order(ByteOrder.LITTLE_ENDIAN);
    private final TraceReader reader = new TraceReader(ring);

    private List<Batches.Block> read(boolean reduced) {
        buffer.clear();
        reader.put(buffer, reduced);
        buffer.flip();
        return Batches.blocks(buffer);
    }

    private static List<Float> from(int first, int count) {
        List<Float> values = new ArrayList<>();
        for (int i = 0; i < count; i++) {
            values.add((float) (first + i));
        }
        return values;
    }

    @Test
    void shouldGiveEverySampleOnce() {
        ring.append(trace.next(10), 50);
        ring.append(trace.next(7), 60);
        assertEquals(17e6, reader.backlogNs(false));
        assertEquals(List.of(new Batches.Block(1, 5, 0, 1e6, from(0, 17))), read(false));
        assertEquals(List.of(), read(false));
        ring.append(trace.next(1), 70);
        assertEquals(List.of(new Batches.Block(1, 5, 17_000_000, 1e6, from(17, 1))), read(false));
        assertEquals(0, reader.backlogNs(false));
    }

    @Test
    void shouldBeginWithTheNextSample() {
        ring.append(trace.next(10), 50);
        TraceReader late = new TraceReader(ring);
        ring.append(trace.next(1), 60);
        buffer.clear();
        assertEquals(60, late.put(buffer, false), "when the oldest sample was received");
        assertEquals(from(10, 1), Batches.blocks(buffer.flip()).get(0).values());
        buffer.clear();
        assertEquals(Long.MAX_VALUE, late.put(buffer, false));
    }

    @Test
    void shouldEndABlockWhereSamplesAreMissing() {
        ring.append(trace.next(3), 0);
        trace.pass(5_000_000);
        ring.append(trace.next(2, SampleBatch.GAP_BEFORE), 0);
        trace.pass(600_000); // 1.6 periods: a hole that nobody marked
        ring.append(trace.next(2), 0);
        trace.pass(400_000); // 1.4 periods: jitter
        ring.append(trace.next(2), 0);
        List<Batches.Block> blocks = read(false);
        assertEquals(
                List.of(from(0, 3), from(3, 2), from(5, 4)),
                blocks.stream().map(Batches.Block::values).toList());
        assertEquals(8_000_000, blocks.get(1).t0Ns());
    }

    @Test
    void shouldGiveTheTrueSpacingOfABlock() {
        Batches fast = new Batches(5, 1020); // the clock of the device is fast
        ring.append(fast.next(11), 0);
        assertEquals(980_392, read(false).get(0).periodNs(), 0.1);
    }

    @Test
    void shouldGivePairsOfMinimumAndMaximum() {
        ring.append(trace.next(50), 0);
        List<Batches.Block> blocks = read(true);
        assertEquals(List.of(new Batches.Block(2, 5, 0, 20e6, List.of(0f, 19f, 20f, 39f))), blocks);
        assertEquals(List.of(), read(true), "the third pair is not full yet");
        ring.append(trace.next(10), 0);
        assertEquals(List.of(40f, 59f), read(true).get(0).values());
    }

    @Test
    void shouldEndAPairWhereSamplesAreMissing() {
        ring.append(trace.next(25), 0);
        trace.pass(100_000_000);
        ring.append(trace.next(20, SampleBatch.GAP_BEFORE), 0);
        List<Batches.Block> blocks = read(true);
        assertEquals(
                List.of(List.of(0f, 19f), List.of(20f, 24f), List.of(25f, 44f)),
                blocks.stream().map(Batches.Block::values).toList());
        assertEquals(5e6, blocks.get(1).periodNs());
    }

    @Test
    void shouldNotCountAnUnfinishedPairAsBacklog() {
        ring.append(trace.next(19), 0);
        assertEquals(0, reader.backlogNs(true));
        assertEquals(19e6, reader.backlogNs(false));
        ring.append(trace.next(21), 0);
        assertEquals(21e6, reader.backlogNs(true));
    }

    @Test
    void shouldFillTheBufferAndGoOnInTheNext() {
        ring.append(trace.next(31), 0);
        ring.append(trace.next(31), 0);
        ByteBuffer small = ByteBuffer.allocate(24 + 4 * 40 + 23).order(ByteOrder.LITTLE_ENDIAN);
        List<Float> all = new ArrayList<>();
        for (int i = 0; i < 2; i++) {
            small.clear();
            reader.put(small, false);
            Batches.blocks(small.flip()).forEach(b -> all.addAll(b.values()));
        }
        assertEquals(from(0, 62), all);
        small.clear();
        small.limit(20);
        ring.append(trace.next(31), 0);
        assertEquals(Long.MAX_VALUE, reader.put(small, false), "no room for a header");
    }

    @Test
    void shouldSkipAndCountWhatWasOverwritten() {
        for (int i = 0; i < 200; i++) {
            ring.append(trace.next(10), 0); // 2000 into a ring of 1024
        }
        List<Batches.Block> blocks = read(false);
        long skipped = reader.takeSkipped();
        assertEquals(2000 - 768, skipped, "three quarters are left to read in peace");
        assertEquals(from((int) skipped, 768), blocks.get(0).values());
        assertEquals(0, reader.takeSkipped());
    }

    /** At 10 samples a second four make a pair, as at all slow rates: that is still less than every sample. */
    @Test
    void shouldMakePairsOfSlowTracesToo() {
        TraceRing slow = new TraceRing(1, 1e8, 1024);
        Batches slowTrace = new Batches(1, 10);
        TraceReader slowReader = new TraceReader(slow);
        slow.append(slowTrace.next(9), 0);
        buffer.clear();
        slowReader.put(buffer, true);
        List<Batches.Block> blocks = Batches.blocks(buffer.flip());
        assertEquals(List.of(0f, 3f, 4f, 7f), blocks.get(0).values());
        assertTrue(slowReader.backlogNs(true) == 0);
    }
}
