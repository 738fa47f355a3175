package io.heldmark.align;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.SplittableRandom;
import java.util.stream.DoubleStream;
import org.junit.jupiter.api.Test;

class PeriodMedianTest {
    /** Distances of a device: steady, a few ticks to and fro, of any length, or steady at another rate. */
    private static double distanceNs(SplittableRandom random, int kind) {
        return switch (kind) {
            case 0 -> 10e6;
            case 1 -> 10e6 + 1000 * random.nextInt(-5, 6);
            case 2 -> 1 + 2e7 * random.nextDouble();
            case 3 -> 0.1e6;
            default -> random.nextInt(8) == 0 ? 1e300 : Double.MIN_VALUE;
        };
    }

    @Test
    void shouldBeTheMiddleOfTheSortedNewest() {
        SplittableRandom random = new SplittableRandom(6_601_000L);
        PeriodMedian median = new PeriodMedian();
        for (int run = 0; run < 40; run++) {
            double[] all = new double[400];
            int count = 0;
            int kind = random.nextInt(5);
            double expected = 0;
            while (count < all.length) {
                kind = random.nextInt(100) == 0 ? random.nextInt(5) : kind;
                double distanceNs = distanceNs(random, kind) * (random.nextInt(30) == 0 ? -1 : 1);
                median.add(distanceNs);
                if (distanceNs > 0) {
                    all[count++] = distanceNs;
                    if (count % PeriodMedian.EVERY == 0 || count < PeriodMedian.EVERY) {
                        int kept = Math.min(count, PeriodMedian.KEPT);
                        expected = DoubleStream.of(all)
                                .limit(count)
                                .skip(count - kept)
                                .sorted()
                                .toArray()[kept / 2];
                    }
                }
                assertEquals(expected, median.medianNs());
            }
            median.clear();
            assertEquals(0, median.medianNs());
        }
    }

    @Test
    void shouldLeaveOutWhatIsNoDistance() {
        PeriodMedian median = new PeriodMedian();
        median.add(0);
        median.add(-5);
        median.add(Double.NaN);
        assertEquals(0, median.medianNs());
        median.add(5);
        assertEquals(5, median.medianNs());
    }
}
