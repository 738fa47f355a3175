package io.heldmark.align;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Arrays;
import java.util.List;
import java.util.function.LongUnaryOperator;
import java.util.stream.Stream;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Clocks that are set or begin anew, links that fall silent: noticed, counted, old and new times kept apart, and the stated
 * uncertainty covers the truth again.
 */
class ClockStepTest {
    private static final int SEEDS = 20;
    private static final long FIRST_SEED = 8_000_000L;
    private static final double EVENT_S = 25;
    private static final double END_S = 60;
    private static final double HICCUP_EVERY_S = 20;
    /** A frame's wait, a retry and a lost frame; frames that came later than this were stalled. */
    private static final double LARGEST_ERROR_MS = 130;

    /** Link and pings a second. */
    record Case(LinkKind kind, double pingsPerS) {
        @Override
        public String toString() {
            return kind.name() + ", " + pingsPerS + " pings/s";
        }
    }

    /** What one run showed. */
    private static final class Run {
        long restarts;
        int framesUntilNoticed;
        /** By how much an error went beyond the 95 % interval stated for it. */
        double worstAfterMs;

        double errorNs;
        double uncertaintyNs;
    }

    static Stream<Case> cases() {
        return Stream.of(
                new Case(LinkKind.radio(7.5, 7), 0),
                new Case(LinkKind.radio(30, 29), 20),
                new Case(LinkKind.radio(50, 50), 20),
                new Case(LinkKind.usb(16, 10), 0),
                new Case(LinkKind.cable(10), 20));
    }

    @ParameterizedTest
    @MethodSource("cases")
    void shouldNoticeAStepForward(Case c) {
        assertNoticed(c, ticks(0.5), true);
        assertNoticed(c, ticks(3600), true);
    }

    @ParameterizedTest
    @MethodSource("cases")
    void shouldNoticeAStepBackward(Case c) {
        assertNoticed(c, ticks(-0.5), true);
        assertNoticed(c, ticks(-3600), true);
    }

    @ParameterizedTest
    @MethodSource("cases")
    void shouldNoticeAReboot(Case c) {
        assertNoticed(c, firstNewTick -> -firstNewTick, true);
    }

    @ParameterizedTest
    @MethodSource("cases")
    void shouldNoticeARebootDuringAnOutage(Case c) {
        List<Run> runs = runs(c, firstNewTick -> -firstNewTick, 10, true);
        for (Run run : runs) {
            assertEquals(1, run.restarts, c.toString());
        }
        assertCovers(c, runs);
    }

    @ParameterizedTest
    @MethodSource("cases")
    void shouldGoOnAfterAnOutageWithoutARestart(Case c) {
        List<Run> runs = runs(c, firstNewTick -> 0, 10, false);
        for (Run run : runs) {
            assertEquals(0, run.restarts, c.toString());
            assertTrue(run.worstAfterMs <= LARGEST_ERROR_MS, c + ": " + run.worstAfterMs + " ms after the outage");
        }
        assertCovers(c, runs);
    }

    private static void assertNoticed(Case c, LongUnaryOperator shift, boolean moved) {
        List<Run> runs = runs(c, shift, 0, moved);
        for (Run run : runs) {
            assertEquals(1, run.restarts, c.toString());
            assertTrue(
                    run.framesUntilNoticed <= StepWatch.CONFIRM, c + ": after " + run.framesUntilNoticed + " frames");
            assertTrue(run.worstAfterMs <= LARGEST_ERROR_MS, c + ": " + run.worstAfterMs + " ms after the step");
        }
        assertCovers(c, runs);
    }

    private static void assertCovers(Case c, List<Run> runs) {
        long covered = runs.stream()
                .filter(run -> Math.abs(run.errorNs) <= 1.96 * run.uncertaintyNs)
                .count();
        assertTrue(covered >= 0.95 * SEEDS, c + ": " + covered + " of " + SEEDS + " covered");
    }

    private static LongUnaryOperator ticks(double seconds) {
        return firstNewTick -> Math.round(seconds * SyntheticArrivals.TICK_RATE_HZ);
    }

    private static List<Run> runs(Case c, LongUnaryOperator shift, double outageS, boolean moved) {
        Run[] runs = new Run[SEEDS];
        for (int i = 0; i < SEEDS; i++) {
            runs[i] = run(c, FIRST_SEED + i, shift, outageS, moved);
        }
        return Arrays.asList(runs);
    }

    /** Plays a session in which at {@value #EVENT_S} s the clock moves, or nothing comes for some time, or both. */
    private static Run run(Case c, long seed, LongUnaryOperator shift, double outageS, boolean moved) {
        SyntheticArrivals truth = new SyntheticArrivals(
                c.kind(), seed, END_S, new SyntheticArrivals.Pings(c.pingsPerS(), END_S), HICCUP_EVERY_S);
        long firstNewTick = firstTickAfter(truth, EVENT_S * 1e9);
        long shiftTicks = shift.applyAsLong(firstNewTick);
        ClockAligner aligner = new ClockAligner(SyntheticArrivals.TICK_RATE_HZ);
        Run run = new Run();
        long previousNs = Long.MIN_VALUE;
        for (SyntheticArrivals.Arrival a : truth.arrivals()) {
            double trueNs = truth.trueNs(a.lastTick());
            boolean isNew = a.lastTick() >= firstNewTick;
            boolean straddles = a.pingSentNs() >= 0 && isNew != a.receivedTick() >= firstNewTick;
            boolean silent = trueNs >= EVENT_S * 1e9 && trueNs < (EVENT_S + outageS) * 1e9;
            if (silent || straddles) {
                continue;
            }
            long moveTicks = isNew ? shiftTicks : 0;
            new SyntheticArrivals.Arrival(
                            a.arrivalNs(), a.lastTick() + moveTicks, a.pingSentNs(), a.receivedTick() + moveTicks)
                    .into(aligner);
            if (a.pingSentNs() >= 0 || !aligner.ready()) {
                continue;
            }
            long mappedNs = aligner.stationNs(a.lastTick() + moveTicks);
            assertTrue(mappedNs > previousNs, c + ": seed " + seed + ": time goes back");
            previousNs = mappedNs;
            judge(run, aligner, mappedNs - trueNs, isNew, moved, a.arrivalNs() - trueNs);
        }
        return run;
    }

    private static void judge(
            Run run, ClockAligner aligner, double errorNs, boolean isNew, boolean moved, double lateNs) {
        run.restarts = aligner.restarts();
        run.errorNs = errorNs;
        run.uncertaintyNs = aligner.standardUncertaintyNs();
        boolean stalled = lateNs > LARGEST_ERROR_MS * 1e6;
        if (isNew && moved && !stalled && run.restarts == 0) {
            run.framesUntilNoticed++;
        }
        if (isNew && !stalled) {
            double unstatedNs = Math.abs(errorNs) - 1.96 * run.uncertaintyNs;
            run.worstAfterMs = Math.max(run.worstAfterMs, unstatedNs / 1e6);
        }
    }

    private static long firstTickAfter(SyntheticArrivals truth, double atNs) {
        return truth.arrivals().stream()
                .filter(a -> a.pingSentNs() < 0 && truth.trueNs(a.lastTick()) >= atNs)
                .mapToLong(SyntheticArrivals.Arrival::lastTick)
                .min()
                .orElseThrow();
    }
}
