package io.heldmark.align;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Arrays;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

class GapGroupsTest {
    private static final double MS = 1e6;

    /** The plain way: everything sorted. */
    private static double plain(double[] ring, int n) {
        double[] sorted = Arrays.copyOf(ring, n);
        Arrays.sort(sorted);
        int first = (int) (0.04 * n);
        int last = n - 1 - first;
        int split = first;
        for (int i = first; i < last; i++) {
            split = sorted[i + 1] - sorted[i] > sorted[split + 1] - sorted[split] ? i : split;
        }
        double distance = sorted[(split + 1 + last) / 2] - sorted[(first + split) / 2];
        double step = sorted[split + 1] - sorted[split];
        return step > distance / 2 && distance > 0 ? distance : Double.POSITIVE_INFINITY;
    }

    /** Gaps of one of eight links; the links change now and then, so that cells that were laid do not fit any more. */
    private static double gap(SplittableRandom random, int link) {
        double noise = random.nextDouble() + random.nextDouble() - 1;
        return switch (link) {
            case 0 -> 10 * MS + 0.2 * MS * noise;
            case 1 -> (random.nextInt(3) == 0 ? 7.5 : 15) * MS + 0.1 * MS * noise;
            case 2 -> 10 * MS;
            case 3 -> 10 * MS + MS * (random.nextInt(3) - 1) + 0.14 * MS * noise;
            case 4 -> random.nextInt(50) == 0 ? 2000 * MS * random.nextDouble() : 30 * MS + MS * noise;
            case 5 -> 100 * MS * random.nextDouble();
            case 6 -> -MS * StrictMath.log(1 - random.nextDouble());
            default -> (random.nextInt(2) + 0.4 * random.nextDouble() + 0.3) * MS; // about where two groups begin
        };
    }

    @Test
    void shouldFindTheGroupsThatSortingFinds() {
        SplittableRandom random = new SplittableRandom(6_400_000L);
        int apart = 0;
        int together = 0;
        for (int run = 0; run < 60; run++) {
            GapGroups groups = new GapGroups();
            double[] ring = new double[GapGroups.RING];
            int link = run % 8;
            for (int i = 0; i < 4000; i++) {
                link = random.nextInt(900) == 0 ? random.nextInt(8) : link;
                ring[i % ring.length] = gap(random, link);
                groups.add(ring[i % ring.length]);
                if (i >= 63 && i % 16 == 0) {
                    double expected = plain(ring, Math.min(i + 1, ring.length));
                    assertEquals(expected, groups.distanceNs());
                    apart += expected < Double.POSITIVE_INFINITY ? 1 : 0;
                    together += expected < Double.POSITIVE_INFINITY ? 0 : 1;
                }
            }
        }
        assertTrue(apart > 1000 && together > 1000, apart + " apart, " + together + " together");
    }

    @Test
    void shouldFindTheBeatOfFramesThatAreRarerThanBeats() {
        GapGroups groups = new GapGroups();
        for (int i = 0; i < 300; i++) {
            groups.add((i % 3 == 0 ? 22.5 : 15) * MS);
        }
        assertEquals(7.5 * MS, groups.distanceNs());
    }

    @Test
    void shouldForgetEverything() {
        GapGroups groups = new GapGroups();
        for (int i = 0; i < 300; i++) {
            groups.add((i % 2 + 1) * MS);
        }
        groups.clear();
        for (int i = 0; i < 100; i++) {
            groups.add(MS);
        }
        assertEquals(Double.POSITIVE_INFINITY, groups.distanceNs());
    }
}
