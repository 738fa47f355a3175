package io.heldmark.metric;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Arrays;
import java.util.Random;
import org.junit.jupiter.api.Test;

/** What a trace answers quickly, against a walk over all samples. */
class TraceTest {
    @Test
    void shouldFindPlacesByTimeLikeALinearSearch() {
        Random random = new Random(11);
        for (Trace trace : traces()) {
            long firstNs = trace.timeNs(0);
            long spanNs = trace.timeNs(trace.size() - 1) - firstNs;
            for (int k = 0; k < 400; k++) {
                long atNs = k % 2 == 0
                        ? trace.timeNs(random.nextInt(trace.size())) + random.nextInt(3) - 1
                        : firstNs + (long) (spanNs * (1.2 * random.nextDouble() - 0.1));
                int expected = 0;
                while (expected < trace.size() && trace.timeNs(expected) < atNs) {
                    expected++;
                }
                assertEquals(expected, trace.after(atNs));
            }
        }
    }

    @Test
    void shouldFindMissingSamplesLikeALookAtEach() {
        Random random = new Random(12);
        for (Trace trace : traces()) {
            for (int k = 0; k < 400; k++) {
                int from = random.nextInt(trace.size());
                int to = Math.min(trace.size() + 1, from + random.nextInt(k % 2 == 0 ? 5 : trace.size()));
                boolean expected = false;
                for (int i = from; i <= Math.min(to, trace.size() - 1); i++) {
                    expected |= Samples.missingBefore(trace, i, trace.periodNs());
                }
                assertEquals(expected, trace.missingBetween(from, to), from + " to " + to);
            }
        }
    }

    @Test
    void shouldFindTheHighestMeanLikeALookAtEachStretch() {
        Random random = new Random(13);
        InventedWindow noisy =
                InventedWindow.of(1000, 2, t -> Math.round(100 * Math.min(t, 1) + 2 * random.nextGaussian()));
        Trace[] all = Arrays.copyOf(traces(), 9);
        all[7] = Trace.of(noisy);
        all[8] = Trace.of(noisy.without(0.7004, 0.7014));
        for (Trace trace : all) {
            for (long spanNs : new long[] {1_300_000, 20_000_000, 100_000_000, 1_000_000_000, 3_000_000_000L}) {
                double[] best = {-1, 0, Double.NEGATIVE_INFINITY};
                SlidingMean.each(trace, spanNs, (first, samples, meanN) -> {
                    if (meanN > best[2]) {
                        best[0] = first;
                        best[1] = samples;
                        best[2] = meanN;
                    }
                });
                SlidingMean got = SlidingMean.highest(trace, spanNs);
                assertEquals((int) best[0], got == null ? -1 : got.firstIndex());
                if (got != null) {
                    assertEquals((int) best[1], got.samples());
                    assertEquals(best[2], got.meanN());
                }
            }
        }
    }

    /** Even samples, and such with a short and a long hole, before, after and on the boundaries. */
    private static Trace[] traces() {
        InventedWindow even = InventedWindow.of(1000, 2, t -> t);
        return new Trace[] {
            Trace.of(even),
            Trace.of(InventedWindow.of(80, 2, t -> t)),
            Trace.of(even.without(0.5, 0.502)),
            Trace.of(even.without(0.2, 1.3)),
            Trace.of(even.without(-0.3, -0.1)),
            Trace.of(even.without(-0.1, 0.1)),
            Trace.of(even.without(2.05, 2.1))
        };
    }
}
