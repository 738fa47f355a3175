package io.heldmark.pipeline;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.decode.DecodedFrame;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

/** Ticks at 1 MHz, 1000 samples a second, 10 samples a frame. */
class SampleClockTest {
    private static final long MS = 1_000_000L;
    private static final long RATE_HZ = 1_000_000;

    private final DecodedFrame frame = new DecodedFrame();
    private SampleClock clock = new SampleClock(RATE_HZ);
    private long tick;
    private long newestNs = Long.MIN_VALUE;

    /** Feeds the next frame and checks that no time comes before another. */
    private void feed(long arrivalNs, long missing, boolean restarted) {
        frame.firstTick = tick;
        frame.ticksPerSample = 1000;
        frame.sampleCount = 10;
        frame.arrivalNs = arrivalNs;
        frame.missingBefore = missing;
        frame.clockRestarted = restarted;
        clock.onFrame(frame);
        tick += 10_000;
        long[] timesNs = new long[10];
        clock.fillTimes(timesNs, 10);
        for (int i = 0; i < 10; i++) {
            assertEquals(clock.timeNs(i), timesNs[i]);
            assertTrue(clock.timeNs(i) > newestNs, "sample " + i + " at " + clock.timeNs(i) + " after " + newestNs);
            newestNs = clock.timeNs(i);
        }
    }

    /** Arrival of the frame that begins now, on time: with its last sample. */
    private long dueNs() {
        return (tick + 9_000) * 1000;
    }

    @Test
    void shouldGiveTimesFromTheFirstFrameOnAndSayHowUncertainTheyAre() {
        feed(500 * MS, 0, false);
        assertEquals(500 * MS, clock.timeNs(9));
        assertEquals(491 * MS, clock.timeNs(0));
        assertTrue(clock.standardUncertaintyNs() >= 1 * MS, "one way: " + clock.standardUncertaintyNs());
        assertFalse(clock.restarted());
    }

    /** {@link #feed} compares both ways to the times; here where halves round otherwise, and where doubles are whole. */
    @Test
    void shouldFillInTheSameTimesBeforeTheStationStartedAndAfterManyDays() {
        for (long arrivalNs : new long[] {0, 5 * MS, 9 * MS, (1L << 51) + 4 * MS, (1L << 52) + 4 * MS, 1L << 55}) {
            clock = new SampleClock(RATE_HZ);
            newestNs = Long.MIN_VALUE;
            for (int i = 0; i < 50; i++) {
                feed(arrivalNs + (10 * MS + 333) * i, 0, false);
            }
        }
    }

    @Test
    void shouldBringALateStartBackWithoutAStep() {
        feed(dueNs() + 80 * MS, 0, false);
        double firstUncertaintyNs = 0;
        for (int i = 0; i < 1500; i++) {
            long beforeNs = newestNs;
            feed(dueNs(), 0, false);
            long spacingNs = (newestNs - beforeNs) / 10;
            assertTrue(spacingNs >= 849_000 && spacingNs <= 1_001_000, "frame " + i + ": " + spacingNs);
            assertFalse(clock.restarted());
            firstUncertaintyNs = i == 0 ? clock.standardUncertaintyNs() : firstUncertaintyNs;
        }
        assertTrue(firstUncertaintyNs > 40 * MS, "what is left of the difference counts: " + firstUncertaintyNs);
        assertEquals((double) dueNs() - 10 * MS, (double) newestNs, 2.0 * MS);
        // One way, a rhythm of 10 ms can hide as much, and 2 ms are assumed: sqrt((10^2 + 2^2) / 3) ms.
        assertEquals(5.888 * MS, clock.standardUncertaintyNs(), 0.01 * MS);
        assertEquals(0, clock.restarts());
    }

    @Test
    void shouldTakeTheEstimateAtOnceAfterMissingSamples() {
        for (int i = 0; i < 100; i++) {
            feed(dueNs(), 0, false);
        }
        long beforeNs = newestNs;
        tick += 500_000;
        feed(dueNs(), 500, false);
        assertEquals(501.0 * MS, (double) (clock.timeNs(0) - beforeNs), 1.0 * MS);
        assertFalse(clock.restarted());
    }

    @Test
    void shouldCountAndMarkARestartAndGoOnLater() {
        for (int i = 0; i < 50; i++) {
            feed(dueNs(), 0, false);
        }
        tick = 3_000; // powered up again 20 ms later
        feed(530 * MS, -1, true);
        assertTrue(clock.restarted());
        assertEquals(1, clock.restarts());
        feed(540 * MS, 0, false);
        assertFalse(clock.restarted());
        assertEquals(1, clock.restarts());
    }

    @Test
    void shouldFollowTheClockBeforeIt() {
        feed(dueNs() + 90 * MS, 0, false); // late, so that its times are ahead of the truth
        clock = new SampleClock(RATE_HZ, clock);
        tick = 77_000_000;
        feed(20 * MS, -1, true); // another device, whose frame comes on time
        assertTrue(clock.restarted());
        assertEquals(1, clock.restarts(), "one restart, whoever saw it");
        feed(30 * MS, 0, false);
        assertFalse(clock.restarted());
    }

    /** Ticks that stood still while the device slept: the frames say nothing, their arrivals do. */
    @Test
    void shouldMarkARestartWhereTheEstimateGivesItselfUp() {
        for (int i = 0; i < 500; i++) {
            feed(dueNs(), 0, false);
        }
        boolean marked = false;
        for (int i = 0; i < 1000; i++) {
            feed(dueNs() + 1000 * MS, 0, false);
            marked |= clock.restarted();
        }
        assertTrue(marked);
        assertEquals(1, clock.restarts());
        assertEquals((double) dueNs() + 990 * MS, (double) newestNs, 3.0 * MS);
    }

    @Test
    void shouldBeSurerWithTwoWayExchanges() {
        SplittableRandom random = new SplittableRandom(9);
        for (int i = 0; i < 2000; i++) {
            feed(dueNs() + random.nextLong(MS), 0, false);
        }
        double oneWayNs = clock.standardUncertaintyNs();
        for (int i = 0; i < 2000; i++) {
            feed(dueNs() + random.nextLong(MS), 0, false);
            if (i % 4 == 0) {
                long sentNs = newestNs + MS;
                long receivedTick = sentNs / 1000 + 200 + random.nextLong(300);
                clock.onPong(sentNs, receivedTick, receivedTick + 50, receivedTick * 1000 + 300_000);
            }
        }
        assertTrue(clock.standardUncertaintyNs() < oneWayNs, clock.standardUncertaintyNs() + " against " + oneWayNs);
        assertEquals(0, clock.skewPpm(), 5);
        assertTrue(clock.arrivalJitterNs() > 0.1 * MS && clock.arrivalJitterNs() < MS);
    }

    @Test
    void shouldNeverGoBackWhateverHappens() {
        for (long seed = 1; seed <= 20; seed++) {
            SplittableRandom random = new SplittableRandom(seed);
            clock = new SampleClock(RATE_HZ);
            newestNs = Long.MIN_VALUE;
            tick = 0;
            long originNs = 0;
            long stallNs = 0;
            for (int i = 0; i < 2000; i++) {
                long missing = 0;
                boolean restarted = false;
                int event = random.nextInt(200);
                if (event == 0) {
                    missing = random.nextLong(1, 3000);
                    tick += missing * 1000;
                } else if (event == 1) {
                    originNs += tick * 1000 + random.nextLong(3000 * MS);
                    tick = random.nextLong(1_000_000);
                    originNs -= tick * 1000;
                    restarted = true;
                    missing = -1;
                } else if (event == 2) {
                    stallNs = random.nextLong(900 * MS);
                } else if (event == 3) {
                    clock = new SampleClock(RATE_HZ, clock);
                }
                stallNs = Math.max(0, stallNs - 10 * MS);
                feed(originNs + dueNs() + stallNs + random.nextLong(30 * MS), missing, restarted);
            }
        }
    }
}
