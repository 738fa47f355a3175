package io.heldmark.protocol;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Random;
import org.junit.jupiter.api.Test;

/** The single rules stand in the golden vectors; here, what holds over long runs. */
class SequenceTrackerTest {
    private final DecoderCounters counters = new DecoderCounters();
    private final SequenceTracker tracker = new SequenceTracker(counters);

    @Test
    void shouldMakeTakenPlusMissingTheStepsOfTheSequence() {
        for (long seed = 0; seed < 50; seed++) {
            Random random = new Random(seed);
            DecoderCounters c = new DecoderCounters();
            SequenceTracker t = new SequenceTracker(c);
            long first = random.nextInt(65536);
            long last = first;
            long taken = 0;
            for (long n = first; n < first + 100_000; n++) {
                if (n > first && random.nextInt(10) == 0) {
                    continue; // Lost on the way.
                }
                taken += t.take((int) (n & 0xFFFF), (n * 1000) & 0xFFFF_FFFFL) ? 1 : 0;
                last = n;
                if (random.nextInt(20) == 0) {
                    t.take((int) (n & 0xFFFF), (n * 1000) & 0xFFFF_FFFFL); // Twice.
                }
            }
            assertEquals(last - first + 1, taken + c.missingFrames, "seed " + seed);
            assertEquals(0, c.reordered + c.restarts, "seed " + seed);
            assertTrue(c.duplicates > 4000, "seed " + seed);
        }
    }

    @Test
    void shouldHoldARebootForLateForAtMostTheWindow() {
        for (int before = 0; before < 200; before++) {
            DecoderCounters c = new DecoderCounters();
            SequenceTracker t = new SequenceTracker(c);
            for (int n = 0; n <= before; n++) {
                t.take(n, 1_000_000 + n * 10L);
            }
            int dropped = 0;
            for (int n = 0; n < 300; n++) {
                dropped += t.take(n, n * 10L) ? 0 : 1;
            }
            assertTrue(dropped <= SequenceTracker.WINDOW, "reboot after " + before + " dropped " + dropped);
            assertEquals(before > SequenceTracker.WINDOW || before == 0 ? 0 : before, dropped);
        }
    }

    @Test
    void shouldDropNothingOfARebootThatADescribeAnnounces() {
        for (int before = 0; before < 70_000; before += 7) {
            DecoderCounters c = new DecoderCounters();
            SequenceTracker t = new SequenceTracker(c);
            t.take(before & 0xFFFF, 1_000_000);
            t.onDescribe();
            assertTrue(t.take(0, 10), "reboot after " + before);
            assertTrue(t.take(1, 20), "reboot after " + before);
            assertEquals(0, c.duplicates + c.reordered, "reboot after " + before);
        }
    }

    @Test
    void shouldTakeAnythingFirstAndAfterAReset() {
        assertTrue(tracker.take(500, 7));
        tracker.reset();
        assertTrue(tracker.take(490, 6));
        assertTrue(tracker.take(491, 7));
        assertEquals(0, counters.gaps + counters.reordered + counters.restarts + counters.duplicates);
    }
}
