package io.heldmark.detect;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.model.ContractionFlag;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

/** Smoothed samples that an open window takes in one go leave it as they do one by one, to the bit. */
class OpenWindowTest {
    private static final long PERIOD_NS = 2_000_000;
    private static final double REST_N = 2;

    private final TraceBuffer raw = new TraceBuffer(4096);
    private final Smoother smoother = new Smoother(raw, 0.02, 500, 4);
    private long sample;

    private static OpenWindow window(long atNs) {
        return new OpenWindow(1, atNs, 1e6, atNs, REST_N, 0.5, 5);
    }

    private void add(double forceN) {
        raw.add(sample * PERIOD_NS, forceN, false);
        smoother.next();
        sample++;
    }

    private static String state(OpenWindow w) {
        return w.peakN() + " " + w.meanPeakNs() + " " + w.valleyNs() + " " + w.settledNs() + " " + w.settledN() + " "
                + w.flags + " " + w.quietAboveN(0) + " " + w.quietAboveN(w.peakN());
    }

    @Test
    void shouldBeLeftTheSameByRandomTraces() {
        SplittableRandom random = new SplittableRandom(77);
        int settled = 0;
        int doubled = 0;
        int nextEfforts = 0;
        for (int trial = 0; trial < 400; trial++) {
            for (int k = 0; k < 20; k++) {
                add(REST_N);
            }
            long openedNs = (sample - 1) * PERIOD_NS;
            OpenWindow oneByOne = window(openedNs);
            OpenWindow atOnce = window(openedNs);
            double targetN = 100;
            double forceN = 0;
            long done = smoother.means().end();
            for (int run = 0; run < 20; run++) {
                int length = 1 + random.nextInt(300);
                for (int k = 0; k < length; k++) {
                    boolean turns = random.nextInt(250) == 0;
                    targetN = turns ? 200 * random.nextDouble() * random.nextDouble() : targetN;
                    forceN += 0.05 * (targetN - forceN);
                    add(REST_N + forceN + 0.4 * (random.nextDouble() - 0.5));
                    OpenWindow.Turn turn = oneByOne.next((sample - 1) * PERIOD_NS, smoother.newestN());
                    nextEfforts += turn == OpenWindow.Turn.NEXT_EFFORT ? 1 : 0;
                }
                atOnce.follow(raw, smoother.means(), done);
                done = smoother.means().end();
                assertEquals(state(oneByOne), state(atOnce));
            }
            settled += Double.isNaN(oneByOne.settledN()) ? 0 : 1;
            doubled += oneByOne.flags.contains(ContractionFlag.DOUBLE_EFFORT) ? 1 : 0;
        }
        assertTrue(settled > 20 && doubled > 20 && nextEfforts > 20, settled + " " + doubled + " " + nextEfforts);
    }

    @Test
    void shouldTellNothingAboveTheHeightItNames() {
        SplittableRandom random = new SplittableRandom(78);
        int told = 0;
        for (int trial = 0; trial < 300; trial++) {
            OpenWindow window = window(0);
            double levelN = 60;
            for (int k = 0; k < 4000; k++) {
                levelN = random.nextInt(200) == 0 ? 1 + 120 * random.nextDouble() : levelN;
                double height = levelN * (1 + 0.01 * random.nextDouble());
                double quietN = window.quietAboveN(1.5 * window.peakN());
                boolean quiet = height > quietN && height < 1.5 * window.peakN();
                OpenWindow.Turn turn = window.next(k * PERIOD_NS, REST_N + height);
                assertTrue(!quiet || turn == OpenWindow.Turn.NONE, () -> turn + " at " + height + " over " + quietN);
                if (turn != OpenWindow.Turn.NONE) {
                    told++;
                    break;
                }
            }
        }
        assertTrue(told > 100, "told: " + told);
    }
}
