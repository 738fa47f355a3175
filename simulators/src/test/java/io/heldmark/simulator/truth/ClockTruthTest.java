package io.heldmark.simulator.truth;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import io.heldmark.simulator.math.SeededRandom;
import io.heldmark.simulator.math.Sinusoids;
import org.junit.jupiter.api.Test;

class ClockTruthTest {
    private final Sinusoids wander = Sinusoids.band(new SeededRandom(2), 4, 0.01, 0.05, 5, 1);

    @Test
    void shouldRunFastByItsOffset() {
        ClockTruth clock = new ClockTruth(1e6, 100, Sinusoids.NONE);
        clock.begin(0, 500, "power-up");
        assertEquals(500 + 10_001_000, clock.tick(10), 1e-6);
        assertEquals(10, clock.trueS(0, 500 + 10_001_000), 1e-12);
        assertEquals(100, clock.ppm(3));
    }

    @Test
    void shouldInvertItselfThroughTheWander() {
        ClockTruth clock = new ClockTruth(1e6, -40, wander);
        clock.begin(0, 0, "power-up");
        for (double timeS = 0; timeS < 2000; timeS += 13.7) {
            assertEquals(timeS, clock.trueOfDeviceS(clock.deviceS(timeS)), 1e-11);
        }
    }

    @Test
    void shouldHaveTheRateThatItSays() {
        ClockTruth clock = new ClockTruth(1e6, -40, wander);
        for (double timeS = 1; timeS < 200; timeS += 7) {
            double slope = (clock.deviceS(timeS + 0.5) - clock.deviceS(timeS - 0.5)) - 1;
            // The slope of a second against the instant: the wander moves by less than 0.02 ppm in it.
            assertEquals(clock.ppm(timeS), slope * 1e6, 0.02);
        }
    }

    @Test
    void shouldWrapTheCounterAndBeginSegments() {
        ClockTruth clock = new ClockTruth(1e6, 0, Sinusoids.NONE);
        clock.begin(0, 0xFFFF_FFFFL - 999_999.0, "power-up");
        assertEquals(0, clock.counter(1));
        assertEquals(0xFFFF_FFFFL, clock.counter(0.9999995));
        clock.begin(5, 123, "step");
        assertEquals(123, clock.counter(5));
        assertEquals(1, clock.segmentAt(5));
        assertEquals(0, clock.segmentAt(4.999));
        assertThrows(IllegalArgumentException.class, () -> clock.begin(4, 0, "step"));
    }
}
