package io.heldmark.filter;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.lang.management.ManagementFactory;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

class BiquadCascadeTest {
    private static final double RATE_HZ = 1000;

    @Test
    void shouldHoldASteadyInputAfterPriming() {
        for (int order : new int[] {2, 4, 8}) {
            BiquadCascade filter = Butterworth.lowPass(order, 10, RATE_HZ);
            filter.prime(734.5);
            for (int i = 0; i < 1000; i++) {
                assertEquals(734.5, filter.next(734.5), 1e-8);
            }
        }
    }

    @Test
    void shouldBeAtRestAgainAfterReset() {
        BiquadCascade used = Butterworth.lowPass(4, 20, RATE_HZ);
        used.prime(100);
        used.next(-40);
        used.reset();
        BiquadCascade fresh = Butterworth.lowPass(4, 20, RATE_HZ);
        for (int i = 0; i < 50; i++) {
            assertEquals(fresh.next(i), used.next(i));
        }
    }

    /** A slow ramp comes out late by exactly the delay at zero frequency: the definition of group delay. */
    @Test
    void shouldLagARampByTheDeclaredDelay() {
        for (int order : new int[] {2, 4, 8}) {
            BiquadCascade filter = Butterworth.lowPass(order, 20, RATE_HZ);
            double slopePerS = 50;
            double y = 0;
            int n = 0;
            for (; n < 3000; n++) {
                y = filter.next(slopePerS * n / RATE_HZ);
            }
            double lagS = (n - 1) / RATE_HZ - y / slopePerS;
            assertEquals(filter.dcGroupDelayS(RATE_HZ), lagS, 1e-9);
        }
    }

    /**
     * Delays at zero frequency that follow from the analogue prototype, sum of q over 2 pi fc: 11.25 ms for order 2 and
     * 20.8 ms for order 4 at 20 Hz (the bilinear transform keeps them at low frequency).
     */
    @Test
    void shouldDelayLikeTheAnaloguePrototype() {
        assertEquals(
                Math.sqrt(2) / (2 * Math.PI * 20),
                Butterworth.lowPass(2, 20, 100_000).dcGroupDelayS(100_000),
                1e-7);
        double q = 2 * Math.sin(Math.PI / 8) + 2 * Math.sin(3 * Math.PI / 8);
        assertEquals(q / (2 * Math.PI * 20), Butterworth.lowPass(4, 20, 100_000).dcGroupDelayS(100_000), 1e-7);
    }

    @Test
    void shouldRefuseWhatIsNotANumberAndStayAsItWas() {
        for (double bad : new double[] {Double.NaN, Double.POSITIVE_INFINITY, Double.NEGATIVE_INFINITY, 1e101}) {
            BiquadCascade filter = Butterworth.lowPass(4, 20, RATE_HZ);
            BiquadCascade untouched = Butterworth.lowPass(4, 20, RATE_HZ);
            filter.prime(5);
            untouched.prime(5);
            double[] block = {1, 2, bad, 4};
            assertThrows(IllegalArgumentException.class, () -> filter.next(bad));
            assertThrows(IllegalArgumentException.class, () -> filter.prime(bad));
            IllegalArgumentException e =
                    assertThrows(IllegalArgumentException.class, () -> filter.process(block, 0, block.length));
            assertTrue(e.getMessage().contains("x=" + bad) && e.getMessage().contains("index=2"), e.getMessage());
            assertArrayEquals(new double[] {1, 2, bad, 4}, block);
            assertEquals(untouched.next(7), filter.next(7));
        }
    }

    @Test
    void shouldRefuseBlocksOutsideTheArray() {
        BiquadCascade filter = Butterworth.lowPass(2, 20, RATE_HZ);
        assertThrows(IndexOutOfBoundsException.class, () -> filter.process(new double[4], 2, 3));
        assertThrows(IndexOutOfBoundsException.class, () -> filter.process(new double[4], -1, 2));
    }

    @Test
    void shouldRefuseSectionsThatAreNoStableFilter() {
        assertThrows(IllegalArgumentException.class, () -> new BiquadCascade(new double[0][]));
        for (double[] section : new double[][] {
            {1, 2, 1, 1, 0},
            {1, 2, 1, 2, 0, 0},
            {1, 2, 1, 1, 0, 1},
            {1, 2, 1, 1, 2, 0.5},
            {1, 2, 1, 1, Double.NaN, 0},
            {Double.NaN, 2, 1, 1, 0, 0},
            {Double.POSITIVE_INFINITY, 2, 1, 1, 0, 0}
        }) {
            assertThrows(IllegalArgumentException.class, () -> new BiquadCascade(new double[][] {section}));
        }
    }

    @Test
    void shouldGiveCopiesOfItsSections() {
        BiquadCascade filter = Butterworth.lowPass(2, 20, RATE_HZ);
        filter.sections()[0][0] = 99;
        assertEquals(Butterworth.lowPass(2, 20, RATE_HZ).next(1), filter.next(1));
    }

    /** Linearity and time invariance, which every filter of this kind has, on seeded random inputs. */
    @Test
    void shouldBeLinearAndTimeInvariant() {
        SplittableRandom random = new SplittableRandom(20);
        for (int run = 0; run < 50; run++) {
            int order = 2 << random.nextInt(3);
            double cutoffHz = random.nextDouble(5, 400);
            int lead = random.nextInt(1, 40);
            BiquadCascade a = Butterworth.lowPass(order, cutoffHz, RATE_HZ);
            BiquadCascade b = Butterworth.lowPass(order, cutoffHz, RATE_HZ);
            for (int i = 0; i < lead; i++) {
                b.next(0);
            }
            for (int i = 0; i < 200; i++) {
                double x = random.nextDouble(-1000, 1000);
                assertEquals(-2.5 * a.next(x), b.next(-2.5 * x), 1e-8);
            }
        }
    }

    @Test
    void shouldAllocateNothingPerSample() {
        BiquadCascade filter = Butterworth.lowPass(8, 50, RATE_HZ);
        double[] block = new double[512];
        var threads = (com.sun.management.ThreadMXBean) ManagementFactory.getThreadMXBean();
        for (int i = 0; i < 200; i++) {
            filter.process(block, 0, block.length);
        }
        threads.getCurrentThreadAllocatedBytes();
        long before = threads.getCurrentThreadAllocatedBytes();
        for (int i = 0; i < 2000; i++) {
            filter.prime(i);
            filter.process(block, 0, block.length);
        }
        long bytes = threads.getCurrentThreadAllocatedBytes() - before;
        // A million samples; a single object each would be 16 MB. The bean itself may allocate a little.
        assertTrue(bytes < 10_000, "allocated " + bytes + " bytes");
    }
}
