package io.heldmark.align;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

/** Two clocks tied by an event at a known instant, while what their links tell goes on changing. */
class ClockTieTest {
    private static final double MS = 1e6;
    private static final long FRAME_NS = 10_000_000L;

    /** A device whose ticks are true nanoseconds / 1000, on a wire with constant delays and a little jitter. */
    private static final class Device {
        final ClockAligner aligner = new ClockAligner(1e6);
        private final double upNs;
        private final double downNs;
        private final SplittableRandom random;
        private long trueNs;

        Device(double upNs, double downNs, long seed) {
            this.upNs = upNs;
            this.downNs = downNs;
            random = new SplittableRandom(seed);
        }

        void runTo(double untilS, boolean pings) {
            while (trueNs < untilS * 1e9) {
                trueNs += FRAME_NS;
                aligner.onArrival(trueNs / 1000, trueNs + delay(upNs));
                if (pings && trueNs % (5 * FRAME_NS) == 0) {
                    long sentNs = trueNs + random.nextLong(FRAME_NS);
                    long receivedNs = sentNs + delay(downNs);
                    aligner.onPong(sentNs, receivedNs / 1000, receivedNs / 1000, receivedNs + delay(upNs));
                }
            }
        }

        private long delay(double constantNs) {
            return Math.round(constantNs - 0.1 * MS * Math.log(1 - random.nextDouble()));
        }

        double errorNs() {
            return aligner.stationNs(trueNs / 1000) - (double) trueNs;
        }
    }

    private static double differenceNs(Device left, Device right, ClockTie tie) {
        return left.errorNs() + tie.shiftNs(0) - right.errorNs() - tie.shiftNs(1);
    }

    @Test
    void shouldTakeOutTheConstantDifferenceByMovingTheLaterClockBack() {
        Device left = new Device(0.3 * MS, 0.3 * MS, 1);
        Device right = new Device(6.3 * MS, 0.3 * MS, 2);
        left.runTo(15, false);
        right.runTo(15, false);
        ClockTie tie = new ClockTie(left.aligner, false, right.aligner, false);
        tie.add(left.errorNs() - right.errorNs(), 0.02 * MS);
        assertEquals(0, tie.shiftNs(0));
        assertEquals(-6 * MS, tie.shiftNs(1), 0.1 * MS);
        left.runTo(60, false);
        right.runTo(60, false);
        double u = tie.differenceUncertaintyNs();
        assertTrue(Math.abs(differenceNs(left, right, tie)) < 2 * u, differenceNs(left, right, tie) + " of " + u);
        assertTrue(u < tie.untiedUncertaintyNs() / 2, u + " of " + tie.untiedUncertaintyNs());
    }

    @Test
    void shouldTakeBackTheStepOfAnotherMethod() {
        Device left = new Device(0.3 * MS, 0.3 * MS, 3);
        Device right = new Device(6.3 * MS, 0.3 * MS, 4);
        left.runTo(15, false);
        right.runTo(15, false);
        ClockTie tie = new ClockTie(left.aligner, false, right.aligner, false);
        tie.add(left.errorNs() - right.errorNs(), 0.02 * MS);
        double before = right.errorNs();
        left.runTo(40, true);
        right.runTo(40, true);
        // Pings halve what both ways take together, so that the mapping itself moves by about 3 ms.
        assertTrue(Math.abs(right.errorNs() - before) > 2 * MS, before + " to " + right.errorNs());
        double u = tie.differenceUncertaintyNs();
        assertTrue(Math.abs(differenceNs(left, right, tie)) < 2 * u, differenceNs(left, right, tie) + " of " + u);
        assertEquals(0, differenceNs(left, right, tie), 1 * MS);
    }

    @Test
    void shouldWalkOnARadioOnly() {
        Device left = new Device(0.3 * MS, 0.3 * MS, 5);
        Device right = new Device(1.3 * MS, 0.3 * MS, 6);
        left.runTo(15, false);
        right.runTo(15, false);
        ClockTie wire = new ClockTie(left.aligner, false, right.aligner, false);
        ClockTie radio = new ClockTie(left.aligner, true, right.aligner, true);
        wire.add(left.errorNs() - right.errorNs(), 0.02 * MS);
        radio.add(left.errorNs() - right.errorNs(), 0.02 * MS);
        assertEquals(wire.differenceUncertaintyNs(), radio.differenceUncertaintyNs(), 1);
        left.runTo(35, false);
        right.runTo(35, false);
        // 85 ppm of 20 s on each side.
        double walked =
                Math.sqrt(Math.pow(radio.differenceUncertaintyNs(), 2) - Math.pow(wire.differenceUncertaintyNs(), 2));
        assertEquals(Math.sqrt(2) * 85e-6 * 20e9, walked, 0.05 * MS);
    }

    @Test
    void shouldAverageSeveralAndTakeTheLargerOfScatterAndStatement() {
        TapSeries one = TapSeries.NONE.with(4, 3, 0);
        assertEquals(3, one.standardUncertaintyNs());
        TapSeries three = one.with(8, 3, 0).with(6, 3, 0);
        // numpy.mean([4, 8, 6]) = 6, numpy.std(.., ddof=1) = 2
        assertEquals(6, three.meanNs(), 1e-12);
        assertEquals(2, three.standardDeviationNs(), 1e-12);
        assertEquals(3 / Math.sqrt(3), three.standardUncertaintyNs(), 1e-12);
        TapSeries scattered = one.with(24, 3, 0);
        // numpy.std([4, 24], ddof=1) / sqrt(2) = 10
        assertEquals(10, scattered.standardUncertaintyNs(), 1e-12);
    }
}
