package io.heldmark.align;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

/** Held to a plain list of bins, each with all its points, and to a hull found by trying every pair of them. */
class EnvelopeWindowTest {
    private static final double S = 1e9;

    /** The bins of the Javadoc, without a thought for time. */
    private static final class Plain {
        final List<double[]> kept = new ArrayList<>();
        final List<Integer> counts = new ArrayList<>();
        double binNs = EnvelopeWindow.FIRST_BIN_NS;
        double newestBin;

        boolean add(double x, double z, double skew) {
            double bin = Math.floor(x / binNs);
            if (!kept.isEmpty() && bin <= newestBin) {
                if (bin == newestBin) {
                    lower(kept.size() - 1, new double[] {x, z}, skew, 1);
                }
                return false;
            }
            if (kept.size() == EnvelopeWindow.BINS && binNs < EnvelopeWindow.LAST_BIN_NS) {
                merge(skew);
            }
            if (kept.size() == EnvelopeWindow.BINS) {
                drop();
            }
            while (!kept.isEmpty() && kept.get(0)[0] < x - EnvelopeWindow.BINS * EnvelopeWindow.LAST_BIN_NS) {
                drop();
            }
            kept.add(new double[] {x, z});
            counts.add(1);
            newestBin = Math.floor(x / binNs);
            return true;
        }

        private void drop() {
            kept.remove(0);
            counts.remove(0);
        }

        private void lower(int i, double[] point, double skew, int count) {
            if (point[1] - skew * point[0] < kept.get(i)[1] - skew * kept.get(i)[0]) {
                kept.set(i, point);
            }
            counts.set(i, counts.get(i) + count);
        }

        private void merge(double skew) {
            binNs *= 2;
            for (int i = 0; i + 1 < kept.size(); ) {
                if (Math.floor(kept.get(i)[0] / binNs) == Math.floor(kept.get(i + 1)[0] / binNs)) {
                    lower(i, kept.remove(i + 1), skew, counts.remove(i + 1));
                } else {
                    i++;
                }
            }
        }

        /** Of all lines through two points that have no point below them, the one with the middle of the window between. */
        double skew() {
            double middle = kept.get(0)[0] + (kept.get(kept.size() - 1)[0] - kept.get(0)[0]) / 2;
            for (int a = 0; a < kept.size(); a++) {
                for (int b = kept.size() - 1; b > a; b--) {
                    boolean holdsMiddle = kept.get(b)[0] >= middle && (a == 0 || kept.get(a)[0] < middle);
                    if (holdsMiddle && noneBelow(kept.get(a), kept.get(b))) {
                        return slope(kept.get(a), kept.get(b));
                    }
                }
            }
            throw new AssertionError("no facet");
        }

        private boolean noneBelow(double[] a, double[] b) {
            return kept.stream()
                    .allMatch(c -> c == a || c == b || (c[1] - a[1]) * (b[0] - a[0]) >= (b[1] - a[1]) * (c[0] - a[0]));
        }

        double looseNs(double skew) {
            double touching =
                    kept.stream().mapToDouble(c -> c[1] - skew * c[0]).min().orElseThrow();
            return kept.stream()
                    .mapToDouble(c -> c[1] - skew * c[0] - touching)
                    .sorted()
                    .toArray()[kept.size() / 2];
        }
    }

    private static double slope(double[] a, double[] b) {
        return (b[1] - a[1]) / (b[0] - a[0]);
    }

    private interface Step {
        double nextX(SplittableRandom random, double x);
    }

    private static void shouldAgree(long seed, int points, double fromX, Step step) {
        SplittableRandom random = new SplittableRandom(seed);
        EnvelopeWindow window = new EnvelopeWindow();
        Plain plain = new Plain();
        double x = fromX;
        for (int i = 0; i < points; i++) {
            x = step.nextX(random, x);
            double z = Math.rint(40e-6 * x - 2e6 * StrictMath.log(1 - random.nextDouble()));
            double skew = i % 1000 < 500 ? 0 : 39e-6;
            assertEquals(plain.add(x, z, skew), window.add(x, z, skew), "new bin at point " + i);
            if (i % 7 == 0 && window.bins() >= 2) {
                window.fit();
                window.fit();
                double expected = plain.skew();
                assertEquals(expected, window.skew());
                assertEquals(plain.looseNs(expected), window.looseNs(), 1e-2); // The offset is rounded otherwise.
            }
            if (i % 50 == 0) {
                shouldHoldTheSame(plain, window);
            }
        }
    }

    private static void shouldHoldTheSame(Plain plain, EnvelopeWindow window) {
        assertEquals(plain.kept.size(), window.bins());
        assertEquals(plain.counts.stream().mapToInt(Integer::intValue).sum(), window.points());
        double newestX = plain.kept.get(plain.kept.size() - 1)[0];
        assertEquals(plain.kept.size() < 2 ? 0 : newestX - plain.kept.get(0)[0], window.spanNs());
        double[] lowest = plain.kept.stream()
                .min(Comparator.comparingDouble(c -> c[1] - 39e-6 * c[0] + 3 * 1e-6 * (newestX - c[0])))
                .orElseThrow();
        assertEquals(lowest[1] - 39e-6 * lowest[0], window.offset(39e-6, newestX, 1e-6));
        assertEquals(lowest[0], window.touchX());
        assertEquals(
                plain.kept.stream()
                        .filter(c -> c[0] >= newestX - 10 * S)
                        .mapToDouble(c -> c[1] - 5e5 - 39e-6 * c[0])
                        .min()
                        .orElseThrow(),
                window.slackSince(newestX - 10 * S, 5e5, 39e-6));
    }

    @Test
    void shouldKeepTheLowestOfEachBinAndFindTheirHull() {
        shouldAgree(6_500_000L, 12_000, 0, (random, x) -> x + Math.rint(random.nextDouble() * 0.1 * S));
    }

    @Test
    void shouldFindTheBinAtEveryMultipleOfIt() {
        shouldAgree(6_500_001L, 3000, -20 * S, (random, x) -> {
            double multiple = EnvelopeWindow.FIRST_BIN_NS * Math.ceil(x / EnvelopeWindow.FIRST_BIN_NS + 1e-9);
            return switch (random.nextInt(3)) {
                case 0 -> multiple;
                case 1 -> Math.nextDown(multiple);
                default -> Math.nextUp(multiple);
            };
        });
    }

    @Test
    void shouldFindTheBinAfterAYear() {
        shouldAgree(6_500_002L, 2000, 3.2e7 * S, (random, x) -> x + Math.rint(random.nextDouble() * 0.3 * S));
    }

    @Test
    void shouldLeaveOutWhatIsOlderThanTheNewestBinAndForgetWhatTheWindowLeftBehind() {
        shouldAgree(
                6_500_003L,
                6000,
                0,
                (random, x) -> x + (random.nextInt(400) == 0 ? 100 * S : (random.nextDouble() - 0.2) * 0.2 * S));
    }

    @Test
    void shouldForgetEverything() {
        EnvelopeWindow window = new EnvelopeWindow();
        for (int i = 0; i < 500; i++) {
            window.add(i * 0.1 * S, 1e6 + i % 7 * 1e5, 0);
        }
        window.fit();
        window.clear();
        window.fit();
        assertEquals(0, window.bins());
        assertEquals(0, window.points());
        assertEquals(0, window.skew());
        assertEquals(Double.POSITIVE_INFINITY, window.offset(0, 0, 0));
        assertTrue(window.add(10 * S, 5, 0), "the first point after it begins a bin");
        assertFalse(window.add(10.1 * S, 5, 0), "bins are short again, and the second is in the first");
    }
}
