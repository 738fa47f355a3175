package io.heldmark.align;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Arrays;
import java.util.Locale;
import java.util.stream.Stream;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Two cells, aligned independently, against the truth of invented links; prints the distributions.
 *
 * <p>The bar of one millisecond at the 95th percentile is asserted where it is met with room; where it is not, the page
 * {@code docs/alignment.md} says so and the stated uncertainty must cover the truth.
 */
class AlignmentDistributionTest {
    private static final int PAIRS = 200;
    private static final long FIRST_SEED = 7_000_000L; // Not among the seeds on which constants were chosen.
    private static final double NO_BAR = Double.POSITIVE_INFINITY;
    /** Where pings tie the clocks, far below the bar: a loss of the method must show. */
    private static final double FINE = 0.3;

    private static final double HICCUP_EVERY_S = 20;

    /** A link, the moment of judging, pings a second, and the bar in milliseconds (infinite: none). */
    record Case(LinkKind kind, double atS, double pingsPerS, double barMs) {
        @Override
        public String toString() {
            return kind.name() + ", at " + atS + " s, " + pingsPerS + " pings/s";
        }
    }

    static Stream<Case> cases() {
        return Stream.concat(withoutPings(), withPings());
    }

    private static Stream<Case> withoutPings() {
        return Stream.of(
                new Case(LinkKind.radio(7.5, 7), 20, 0, 1),
                new Case(LinkKind.radio(30, 29), 20, 0, 1),
                new Case(LinkKind.radio(30, 29), 30, 0, 1),
                new Case(LinkKind.radio(50, 47), 30, 0, 1),
                new Case(LinkKind.usb(16, 10), 20, 0, NO_BAR),
                new Case(LinkKind.radio(30, 25), 20, 0, NO_BAR),
                new Case(LinkKind.radio(30, 30), 20, 0, NO_BAR));
    }

    private static Stream<Case> withPings() {
        return Stream.of(
                new Case(LinkKind.radio(7.5, 7), 20, 20, FINE),
                new Case(LinkKind.radio(30, 29), 20, 20, FINE),
                new Case(LinkKind.radio(50, 47), 30, 20, FINE),
                new Case(LinkKind.radio(15, 15), 20, 20, FINE),
                new Case(LinkKind.radio(30, 30), 20, 20, FINE),
                new Case(LinkKind.radio(50, 50), 20, 20, FINE),
                new Case(LinkKind.radio(50, 50), 60, 2, FINE),
                new Case(LinkKind.radio(15, 50), 20, 20, FINE),
                new Case(LinkKind.usb(16, 10), 20, 20, FINE),
                new Case(LinkKind.cable(10), 20, 20, FINE),
                new Case(LinkKind.radio(30, 30).with(2, 0.2, 1), 20, 20, FINE),
                new Case(LinkKind.radio(30, 29).with(0.2, 2, 1), 20, 20, FINE),
                new Case(LinkKind.radio(50, 47).with(0.8, 0.8, 25), 30, 20, NO_BAR),
                new Case(LinkKind.radio(7.5, 7.5).with(0.8, 0.8, 5), 20, 20, NO_BAR),
                new Case(LinkKind.radio(15, 15).with(0.8, 0.8, 10), 20, 20, NO_BAR),
                new Case(LinkKind.radio(50, 50).with(0.8, 0.8, 25), 20, 20, NO_BAR));
    }

    @ParameterizedTest
    @MethodSource("cases")
    void shouldAlignTwoCellsAsTheLinkAllowsAndCoverTheTruth(Case c) {
        double[] errorsMs = new double[PAIRS];
        int covered = 0;
        for (int pair = 0; pair < PAIRS; pair++) {
            double[] left = judge(c, FIRST_SEED + 2L * pair);
            double[] right = judge(c, FIRST_SEED + 2L * pair + 1);
            errorsMs[pair] = Math.abs(left[0] - right[0]) / 1e6;
            covered += Math.abs(left[0]) <= 1.96 * left[1] ? 1 : 0;
            covered += Math.abs(right[0]) <= 1.96 * right[1] ? 1 : 0;
        }
        Arrays.sort(errorsMs);
        double p95Ms = errorsMs[PAIRS * 95 / 100];
        double coverage = covered / (2.0 * PAIRS);
        System.out.printf(
                Locale.ROOT,
                "%-75s between cells: median %.2f ms, p95 %.2f ms; 95 %% interval covers %.1f %%%n",
                c,
                errorsMs[PAIRS / 2],
                p95Ms,
                100 * coverage);
        assertTrue(p95Ms <= c.barMs(), c + ": p95 " + p95Ms + " ms");
        assertTrue(coverage >= 0.95, c + ": coverage " + coverage);
    }

    @ParameterizedTest
    @MethodSource("cases")
    void shouldShiftWithTime(Case c) {
        long shiftNs = 3_600_000_000_000L;
        ClockAligner here = new ClockAligner(SyntheticArrivals.TICK_RATE_HZ);
        ClockAligner later = new ClockAligner(SyntheticArrivals.TICK_RATE_HZ);
        long lastTick = 0;
        for (SyntheticArrivals.Arrival a : arrivals(c, FIRST_SEED).arrivals()) {
            a.into(here);
            long sentNs = a.pingSentNs() < 0 ? -1 : a.pingSentNs() + shiftNs;
            new SyntheticArrivals.Arrival(a.arrivalNs() + shiftNs, a.lastTick(), sentNs, a.receivedTick()).into(later);
            lastTick = a.lastTick();
        }
        long movedNs = later.stationNs(lastTick) - here.stationNs(lastTick);
        assertTrue(Math.abs(movedNs - shiftNs) <= 2_000, c + ": moved by " + movedNs); // Rounding of doubles.
        assertEquals(here.standardUncertaintyNs(), later.standardUncertaintyNs(), 2_000.0);
    }

    private static SyntheticArrivals arrivals(Case c, long seed) {
        return new SyntheticArrivals(
                c.kind(), seed, c.atS(), new SyntheticArrivals.Pings(c.pingsPerS(), c.atS()), HICCUP_EVERY_S);
    }

    /** Returns error and stated standard uncertainty of the newest frame's time, in nanoseconds. */
    private static double[] judge(Case c, long seed) {
        SyntheticArrivals truth = arrivals(c, seed);
        ClockAligner aligner = new ClockAligner(SyntheticArrivals.TICK_RATE_HZ);
        long lastTick = 0;
        for (SyntheticArrivals.Arrival a : truth.arrivals()) {
            a.into(aligner);
            lastTick = a.pingSentNs() < 0 ? a.lastTick() : lastTick;
        }
        return new double[] {aligner.stationNs(lastTick) - truth.trueNs(lastTick), aligner.standardUncertaintyNs()};
    }
}
