package io.heldmark.align;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

class ArrivalPhaseTest {
    private static final double MS = 1e6;

    @Test
    void shouldTakeTheMedianOfTheNewestPeriods() {
        SplittableRandom random = new SplittableRandom(6_600_000L);
        ArrivalPhase phase = new ArrivalPhase();
        List<Double> periods = new ArrayList<>();
        double x = 0;
        phase.add(x, 0);
        for (int i = 0; i < 3000; i++) {
            int kind = i / 300 % 3;
            double period =
                    kind == 0 ? 10 * MS : kind == 1 ? random.nextInt(9, 12) * MS : 1 + random.nextInt(1_000_000);
            period = random.nextInt(20) == 0 ? -period : period; // out of order: no period
            x += period;
            phase.add(x, 0);
            if (period > 0) {
                periods.add(period);
                if (periods.size() % 8 == 0 || periods.size() < 8) {
                    double[] newest = periods.subList(Math.max(0, periods.size() - 64), periods.size()).stream()
                            .mapToDouble(Double::doubleValue)
                            .sorted()
                            .toArray();
                    assertEquals(newest[newest.length / 2], phase.periodNs());
                }
            }
        }
    }

    /** Waits spread evenly over a share of the period, with a stall now and then; expected values by sorting. */
    @Test
    void shouldFindWhatNoWaitHasShown() {
        for (double share : new double[] {0.05, 0.5, 0.97}) {
            SplittableRandom random = new SplittableRandom(6_600_001L);
            ArrivalPhase phase = new ArrivalPhase();
            double[] x = new double[ArrivalPhase.RING];
            double[] z = new double[ArrivalPhase.RING];
            int bursts = 0;
            double pendingX = 0;
            double pendingZ = 0;
            for (int i = 0; i < 2000; i++) {
                double frameX = i * 10 * MS;
                double frameZ = 3 * MS + 20e-6 * frameX + 10 * MS * share * random.nextDouble();
                phase.add(frameX, frameZ);
                if (i > 0 && frameX + frameZ - pendingX - pendingZ > 0.3 * 10 * MS) { // A burst ends with a wait.
                    x[bursts % x.length] = pendingX;
                    z[bursts % z.length] = pendingZ;
                    bursts++;
                }
                pendingX = frameX;
                pendingZ = frameZ;
                if (phase.due()) {
                    phase.evaluate(3 * MS, 20e-6, 1e-6);
                    shouldBe(phase, x, z, Math.min(bursts, x.length));
                    assertFalse(phase.due());
                }
            }
            assertEquals(10 * MS * (1 - share), phase.hiddenNs(), 0.5 * MS);
        }
    }

    private static void shouldBe(ArrivalPhase phase, double[] x, double[] z, int count) {
        double[] folded = new double[count];
        double sum = 0;
        double oldest = Double.POSITIVE_INFINITY;
        double newest = Double.NEGATIVE_INFINITY;
        double[] distances = new double[count];
        for (int i = 0; i < count; i++) {
            double residual = Math.max(0, z[i] - 3 * MS - 20e-6 * x[i]);
            distances[i] = z[i] - 3 * MS - 20e-6 * x[i];
            sum += distances[i];
            double rest = residual - phase.rangeNs() * Math.floor(residual / phase.rangeNs());
            folded[i] = rest > phase.rangeNs() - (0.02 * phase.rangeNs() + 0.1 * MS) ? 0 : rest;
            oldest = Math.min(oldest, x[i]);
            newest = Math.max(newest, x[i]);
        }
        Arrays.sort(folded);
        double seenNs = folded[(int) (0.98 * (count - 1))] - 1e-6 * (newest - oldest);
        assertEquals(phase.rangeNs() - Math.max(0, seenNs), phase.hiddenNs());
        double mean = sum / count;
        double variance =
                Arrays.stream(distances).map(d -> (d - mean) * (d - mean)).sum() / count;
        assertEquals(Math.sqrt(variance), phase.jitterNs(), 1e-6 * Math.sqrt(variance));
    }

    @Test
    void shouldFoldWaitsOfSeveralRangesIntoOne() {
        ArrivalPhase phase = new ArrivalPhase();
        for (int i = 0; i <= 40; i++) {
            phase.add(i * 10 * MS, 25 * MS + i % 2 * 2 * MS);
        }
        assertTrue(phase.due());
        phase.evaluate(0, 0, 0);
        assertEquals(10 * MS, phase.rangeNs());
        assertEquals(3 * MS, phase.hiddenNs()); // 27 ms is two ranges and 7 ms.
        assertEquals(1 * MS, phase.jitterNs(), 1);
    }

    @Test
    void shouldAssumeTheLongestIntervalUntilItHasSeenEnough() {
        ArrivalPhase phase = new ArrivalPhase();
        for (int i = 0; i < ArrivalPhase.ENOUGH; i++) {
            assertFalse(phase.due());
            assertEquals(ArrivalPhase.ASSUMED_RANGE_NS, phase.rangeNs());
            assertEquals(phase.rangeNs(), phase.hiddenNs());
            phase.add(i * 10 * MS, 0);
        }
        phase.add(ArrivalPhase.ENOUGH * 10 * MS, 0);
        assertTrue(phase.due());
        phase.evaluate(0, 0, 0);
        phase.clear();
        assertEquals(0, phase.periodNs());
        assertEquals(ArrivalPhase.ASSUMED_RANGE_NS, phase.rangeNs());
    }

    @Test
    void shouldLookAtTheLastFrameOfABurstOnly() {
        ArrivalPhase phase = new ArrivalPhase();
        for (int i = 0; i < 400; i++) { // Four frames at once, of which the last one waited least.
            double x = i * 10 * MS;
            phase.add(x, (i / 4 * 4 + 3) * 10 * MS + MS - x);
        }
        phase.evaluate(0, 0, 0);
        assertEquals(0, phase.jitterNs(), 1e-3);
        assertEquals(9 * MS, phase.hiddenNs());
    }
}
