package io.heldmark.decode;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

/** Ticks at 1 MHz, 1000 samples a second declared: 1000 ticks a sample. */
class FramePlacerTest {
    private static final long WRAP = 1L << 32;
    private static final long S = 1_000_000_000L;

    private final FramePlacer placer = new FramePlacer(1e6, 1000);
    private final DecodedFrame frame = new DecodedFrame();
    private long delayNs = 3_000_000;

    /** Places a frame of 10 samples that arrives 3 ms after its tick. */
    private void place(long tick, long missingFrames, boolean sequenceRestarted, boolean deviceLoss) {
        placeAt(tick, tick * 1000 + delayNs, missingFrames, sequenceRestarted, deviceLoss);
    }

    private void placeAt(long tick, long arrivalNs, long missingFrames, boolean sequenceRestarted, boolean deviceLoss) {
        frame.sampleCount = 10;
        frame.arrivalNs = arrivalNs;
        placer.place(frame, tick % WRAP, missingFrames, sequenceRestarted, deviceLoss);
    }

    private void assertPlaced(long missingBefore, long firstSampleIndex, boolean clockRestarted) {
        assertEquals(clockRestarted, frame.clockRestarted, "clock restarted");
        assertEquals(missingBefore, frame.missingBefore, "missing");
        assertEquals(firstSampleIndex, frame.firstSampleIndex, "index");
    }

    @Test
    void shouldPlaceFramesInOrderAcrossTheWrapOfTheTick() {
        for (int i = 0; i < 100; i++) {
            long tick = WRAP - 495_000 + i * 10_000L;
            place(tick, 0, false, false);
            assertPlaced(0, i * 10L, false);
            assertEquals(tick, frame.firstTick);
        }
    }

    @Test
    void shouldCountLostSamplesFromTheTicks() {
        place(50_000, 0, false, false);
        place(100_000, 2, false, false); // 40 samples fit into the hole, whatever those two messages held
        assertPlaced(40, 50, false);
        place(110_000, 0, false, false);
        assertPlaced(0, 60, false);
    }

    @Test
    void shouldCountAtLeastOneSampleForAMissingMessage() {
        place(50_000, 0, false, false);
        place(60_400, 3, false, false); // the ticks leave no room
        assertPlaced(3, 13, false);
    }

    @Test
    void shouldCountWhatTheDeviceLostItself() {
        place(50_000, 0, false, false);
        place(5_060_000, 0, false, true); // five seconds, and the device says so
        assertPlaced(5000, 5010, false);
    }

    @Test
    void shouldSeeAHoleOfOneSampleButNoHoleInARateThatIsOff() {
        place(50_000, 0, false, false);
        place(61_200, 0, false, false); // 1.2 samples late, over a limit of 0.75 + 0.05 x 10
        assertPlaced(0, 10, false);
        place(72_500, 0, false, false); // 1.3
        assertPlaced(1, 21, false);
    }

    @Test
    void shouldLearnTheTrueSampleDistance() {
        long tick = 0;
        for (int i = 0; i < 1000; i++) {
            place(tick, 0, false, false);
            assertEquals(0, frame.missingBefore, "message " + i);
            tick += 10_300; // 3 % slow
        }
        assertEquals(1030, frame.ticksPerSample, 0.1);
        tick += 5 * 1030;
        place(tick, 1, false, false);
        assertEquals(5, frame.missingBefore, "counted with the learnt distance");
    }

    @Test
    void shouldNotLearnADistanceMoreThanTenPerCentFromTheDeclaredOne() {
        for (int i = 0; i < 2000; i++) {
            place(i * 8_000L, 0, false, false); // 20 % fast: that is another rate than the declared one
        }
        assertEquals(900, frame.ticksPerSample, 1e-6);
    }

    @Test
    void shouldRestartTheClockWhereTheTickGoesBackOrStandsStill() {
        place(500_000, 0, false, false);
        placeAt(20_000, 510_000_000 + delayNs, 0, true, false); // powered up again: sequence and tick begin anew
        assertPlaced(-1, 10, true);
        assertEquals(20_000, frame.firstTick, "ticks begin anew, too");
        placeAt(30_000, 520_000_000 + delayNs, 0, false, false);
        assertPlaced(0, 20, false);
        placeAt(30_000, 530_000_000 + delayNs, 0, false, false);
        assertPlaced(-1, 30, true);
    }

    @Test
    void shouldTakeARestartedSequenceForARestartedClockOnlyWhereTheArrivalContradicts() {
        place(500_000, 0, false, false);
        place(900_000, 0, true, false); // 0.4 s on by tick and by arrival: only the messages began anew
        assertPlaced(390, 400, false);
        placeAt(2_000_000, 920_000_000, 0, true, false); // 1.1 s by tick, 20 ms by arrival
        assertPlaced(-1, 410, true);
    }

    @Test
    void shouldTellASilentDeviceFromAClockThatWasStepped() {
        place(500_000, 0, false, false);
        place(8_000_000, 0, false, false); // 7.5 s later, and it also arrives 7.5 s later
        assertPlaced(7490, 7500, false);
        placeAt(20_000_000, 8_010_000_000L + delayNs, 0, false, false); // 12 s by tick, 10 ms by arrival
        assertPlaced(-1, 7510, true);
    }

    @Test
    void shouldBearABurstAfterAStall() {
        place(500_000, 0, false, false);
        long lateNs = 510_000_000 + 900_000_000L;
        for (int i = 1; i <= 90; i++) {
            placeAt(500_000 + i * 10_000L, lateNs, 0, false, false); // all at once
            assertPlaced(0, i * 10L, false);
        }
    }

    @Test
    void shouldGoOnAfterAReconnectOfTheSameClock() {
        place(500_000, 0, false, false);
        placer.onReconnect();
        place(5_510_000, 0, false, false); // whatever the sequence says
        assertPlaced(5000, 0, false);
        place(5_520_000, 0, false, false);
        assertPlaced(0, 10, false);
    }

    @Test
    void shouldBearALateFirstMessageAfterAReconnect() {
        place(500_000, 0, false, false);
        placer.onReconnect();
        placeAt(700_000, 2_600_000_000L, 0, false, false); // waited 1.9 s in a buffer of the link
        assertPlaced(190, 0, false);
    }

    @Test
    void shouldRestartTheClockAfterAReconnectToADeviceThatWasOff() {
        place(500_000, 0, false, false);
        placer.onReconnect();
        placeAt(600_000, 60 * S, 0, false, false);
        assertPlaced(-1, 0, true);
    }

    @Test
    void shouldCountWhatTheStationLostItself() {
        place(500_000, 0, false, false);
        placer.onBytesLost();
        place(1_510_000, 0, true, false); // the decoder's sequence began anew, too
        assertPlaced(1000, 1010, false);
    }

    /** Whatever messages are lost and however long they are: placed and missing samples make up the true number. */
    @Test
    void shouldAccountForEverySampleOfALossyLink() {
        SplittableRandom random = new SplittableRandom(23);
        long sample = 0;
        long lost = 0;
        long missing = 0;
        int missingFrames = 0;
        for (int i = 0; i < 20_000; i++) {
            int n = random.nextInt(1, 32);
            if (i > 0 && random.nextInt(10) == 0) {
                lost += n;
                missingFrames++;
            } else {
                frame.sampleCount = n;
                long tick = sample * 1000 + random.nextLong(-100, 101) + 1000; // conversions jitter by a tenth
                frame.arrivalNs = sample * S / 1000 + random.nextLong(50_000_000L);
                placer.place(frame, tick % WRAP, missingFrames, false, false);
                assertFalse(frame.clockRestarted);
                assertEquals(sample, frame.firstSampleIndex, "message " + i);
                missing += frame.missingBefore;
                missingFrames = 0;
                assertEquals(lost, missing);
            }
            sample += n;
        }
        assertTrue(lost > 20_000, "lost " + lost);
    }
}
