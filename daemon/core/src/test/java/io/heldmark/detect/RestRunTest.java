package io.heldmark.detect;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Random;
import org.junit.jupiter.api.Test;

/** A run of rest at once gives what its samples give one by one, to the bit. */
class RestRunTest {
    private static final double RATE_HZ = 500;

    private final TraceBuffer raw = new TraceBuffer(16_384);
    private final Smoother smoother = new Smoother(raw, 0.02, RATE_HZ, 12);
    private final RestTracker oneByOne = new RestTracker(0.01, RATE_HZ);
    private final RestTracker atOnce = new RestTracker(0.01, RATE_HZ);
    private final Stillness stillOneByOne = new Stillness(smoother, RATE_HZ);
    private final Stillness stillAtOnce = new Stillness(smoother, RATE_HZ);
    private final Random random = new Random(5);

    @Test
    void shouldFollowLikeOneByOne() {
        long sample = 0;
        long done = 0;
        double noiseN = 0.1;
        boolean longKnown = false;
        while (sample < 40_000) {
            int run = 1 + random.nextInt(512);
            if (random.nextInt(10) == 0) { // The level settles for a while, which may end within a run.
                long untilNs = (sample + random.nextInt(700)) * 2_000_000L;
                oneByOne.settle(untilNs);
                atOnce.settle(untilNs);
            }
            for (int k = 0; k < run; k++) {
                // Noise that changes and knocks now and then, so that every limit is met.
                noiseN = random.nextInt(2000) == 0 ? 20 * random.nextDouble() * random.nextDouble() : noiseN;
                double knockN = random.nextInt(300) == 0 ? 40 * random.nextGaussian() : 0;
                raw.add(sample * 2_000_000L, 3 + noiseN * random.nextGaussian() + knockN, false);
                sample++;
                if (smoother.next() && smoother.steady(stillAtOnce.lag())) {
                    RestRun.followNewest(smoother, (sample - 1) * 2_000_000L, oneByOne, stillOneByOne);
                } else {
                    done = smoother.means().end();
                }
            }
            RestRun.follow(raw, smoother, done, atOnce, stillAtOnce);
            done = smoother.means().end();
            assertEquals(oneByOne.levelN(), atOnce.levelN(), 0.0);
            assertEquals(oneByOne.noiseN(), atOnce.noiseN(), 0.0);
            assertEquals(stillOneByOne.restQuick(), stillAtOnce.restQuick(), 0.0);
            assertEquals(stillOneByOne.restSlow(), stillAtOnce.restSlow(), 0.0);
            longKnown |= stillAtOnce.longKnown();
        }
        assertTrue(longKnown && oneByOne.noiseN() > 0.02, "both loops were run, with noise");
    }

    @Test
    void shouldFollowASampleEveryFiveMillisecondsAtMost() {
        assertEquals(1, RestTracker.stride(80));
        assertEquals(1, RestTracker.stride(100));
        assertEquals(2, RestTracker.stride(500));
        assertEquals(5, RestTracker.stride(1000));
        assertEquals(10, RestTracker.stride(2000));
    }
}
