package io.heldmark.decode;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

class TickUnwrapperTest {
    private static final long WRAP = 1L << 32;
    private static final long S = 1_000_000_000L;

    private final TickUnwrapper unwrapper = new TickUnwrapper(1e6);

    @Test
    void shouldGiveTheBitsThemselvesBeforeTheFirstNote() {
        assertEquals(WRAP - 1, unwrapper.unwrap(WRAP - 1, 5 * S));
        assertEquals(7, unwrapper.unwrap(7, 9 * S), "nothing was noted, so that nothing is expected");
        assertEquals(0, unwrapper.aheadS(12_345, 5 * S));
    }

    @Test
    void shouldGoOnAcrossTheWrap() {
        unwrapper.note(WRAP - 1000, 10 * S);
        assertEquals(WRAP + 500, unwrapper.unwrap(500, 10 * S + 1_500_000));
        assertEquals(WRAP - 1, unwrapper.unwrap(WRAP - 1, 10 * S + 999_000));
    }

    @Test
    void shouldCountWholeWrapsOfSilenceByTheArrival() {
        unwrapper.note(100, 0);
        long silent = 3 * WRAP + 12_345; // 3.6 hours at 1 MHz
        assertEquals(100 + silent, unwrapper.unwrap((100 + silent) % WRAP, silent * 1000));
    }

    /** The limit that the class states: wrong only where an arrival is off by half a wrap, 2147 s at 1 MHz. */
    @Test
    void shouldBearArrivalsThatAreOffByLessThanHalfAWrap() {
        unwrapper.note(5000, 0);
        assertEquals(6000, unwrapper.unwrap(6000, 2147 * S), "late by 35 minutes");
        assertEquals(2_147_000_000L, unwrapper.unwrap(2_147_000_000L, 0), "early by 35 minutes");
        assertEquals(6000 + WRAP, unwrapper.unwrap(6000, 2148 * S), "beyond the limit the next wrap is nearer");
    }

    @Test
    void shouldPlaceATickBeforeTheNewestBeforeIt() {
        unwrapper.note(WRAP + 10, 0); // a pong whose ticks are older than the newest sample, right after a wrap
        assertEquals(WRAP - 20, unwrapper.unwrap(WRAP - 20, 1_000_000));
    }

    @Test
    void shouldTellHowFarATickIsAheadOfItsArrival() {
        unwrapper.note(1_000_000, S);
        assertEquals(0, unwrapper.aheadS(3_000_000, 3 * S), 1e-9);
        assertEquals(0.25, unwrapper.aheadS(3_250_000, 3 * S), 1e-9);
        assertEquals(-1.5, unwrapper.aheadS(1_500_000, 3 * S), 1e-9);
    }

    @Test
    void shouldFollowAFastCounterThroughManyWrapsOfJitteryArrivals() {
        TickUnwrapper fast = new TickUnwrapper(100e6); // wraps every 43 s
        SplittableRandom random = new SplittableRandom(11);
        long tick = WRAP - 5;
        long truthNs = 0;
        fast.note(tick, 0);
        for (int i = 0; i < 2000; i++) {
            long stepNs = random.nextLong(1_000_000L, 15 * S);
            truthNs += stepNs;
            tick += stepNs / 10;
            long arrivalNs = truthNs + random.nextLong(2 * S);
            assertEquals(tick, fast.unwrap(tick % WRAP, arrivalNs), "step " + i);
            fast.note(tick, arrivalNs);
        }
    }
}
