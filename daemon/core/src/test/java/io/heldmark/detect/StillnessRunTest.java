package io.heldmark.detect;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

/** What {@link Stillness} gathers of an open window in one go is what it gathers one by one, to the bit. */
class StillnessRunTest {
    private static final double RATE_HZ = 1000;
    private static final long PERIOD_NS = 1_000_000;

    private final TraceBuffer raw = new TraceBuffer(32_768);
    private final Smoother smoother = new Smoother(raw, 0.02, RATE_HZ, 12);
    private final Stillness oneByOne = new Stillness(smoother, RATE_HZ);
    private final Stillness atOnce = new Stillness(smoother, RATE_HZ);
    private final SplittableRandom random = new SplittableRandom(9);
    private int sample;

    private long add(double forceN) {
        raw.add(sample * PERIOD_NS, forceN, false);
        smoother.next();
        return PERIOD_NS * sample++;
    }

    @Test
    void shouldGatherLikeOneByOne() {
        for (int i = 0; i < 12_000; i++) {
            add(0.3 * random.nextDouble());
            oneByOne.rest();
            atOnce.rest();
        }
        int still = 0;
        for (int trial = 0; trial < 60; trial++) {
            double tremorN = trial % 2 == 0 ? 0 : 3;
            oneByOne.open(sample * PERIOD_NS);
            atOnce.open(sample * PERIOD_NS);
            for (int run = 0; run < 40; run++) {
                still += take(50 + tremorN * random.nextDouble(), tremorN) ? 1 : 0;
            }
        }
        assertTrue(still > 20, "still: " + still);
    }

    /** A run that ends before a block does, then the sample that may end it; tells whether the window is still then. */
    private boolean take(double levelN, double tremorN) {
        long from = smoother.means().end();
        int length = 1 + random.nextInt(200);
        for (int k = 0; k < length && sample * PERIOD_NS < atOnce.blockEndNs(); k++) {
            long nowNs = add(levelN + (0.3 + tremorN) * random.nextDouble());
            assertEquals(false, oneByOne.active(nowNs, smoother.newestN() - 1));
        }
        atOnce.follow(from, 1);
        long nowNs = add(levelN);
        boolean still = oneByOne.active(nowNs, smoother.newestN() - 1);
        assertEquals(still, atOnce.active(nowNs, smoother.newestN() - 1));
        assertEquals(oneByOne.heightN(), atOnce.heightN(), 0.0);
        assertEquals(oneByOne.gatheredS(), atOnce.gatheredS(), 0.0);
        assertEquals(oneByOne.highestN(), atOnce.highestN(), 0.0);
        return still;
    }
}
