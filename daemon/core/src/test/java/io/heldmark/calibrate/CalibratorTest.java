package io.heldmark.calibrate;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.model.Bend;
import java.util.Random;
import org.junit.jupiter.api.Test;

class CalibratorTest {
    @Test
    void shouldDrawAStraightLine() {
        Calibrator c = new Calibrator(120, 0.01, 0.002);
        assertEquals(-1.2, c.forceN(0), 1e-12);
        assertEquals(98.8, c.forceN(10_000), 1e-12);
        assertEquals("N", c.unit());
        assertEquals(0.01, c.resolution());
        assertEquals(0.002, c.relativeU());
        assertTrue(c.calibrated());
    }

    @Test
    void shouldDrawAParabola() {
        Calibrator c = new Calibrator(120, 0.01, 0.002, new Bend(1e-4, 0, 500));
        c.setSessionZeroN(10);
        // 1 + 1e-4 F as far as 300 N: y = 300 + 9 = 309 N by the tangent.
        assertEquals(290, c.forceN(120 + 30_900), 1e-9);
        double[] out = new double[2];
        c.convert(new int[] {7, 120 + 30_900, 7, 120}, 1, 2, 2, out);
        assertArrayEquals(new double[] {c.forceN(120 + 30_900), -10}, out);
    }

    @Test
    void shouldTakeANegativeSlope() {
        Calibrator c = new Calibrator(-50, -0.5, Double.NaN);
        assertEquals(25, c.forceN(-100), 1e-12);
        assertEquals(0.5, c.resolution());
        assertTrue(Double.isNaN(c.relativeU()));
    }

    @Test
    void shouldSubtractTheSessionZero() {
        Calibrator c = new Calibrator(0, 0.01, 0.002);
        c.setSessionZeroN(12.5);
        assertEquals(-12.5, c.forceN(0), 1e-12);
        assertEquals(87.5, c.forceN(10_000), 1e-12);
        assertEquals(12.5, c.sessionZeroN());
    }

    @Test
    void shouldKeepTheWholeRangeOfCounts() {
        Calibrator c = new Calibrator(-2_000_000_000, 1, 0);
        assertEquals(2_147_483_647.0 + 2_000_000_000.0, c.forceN(Integer.MAX_VALUE));
        assertEquals(-2_147_483_648.0 + 2_000_000_000.0, c.forceN(Integer.MIN_VALUE));
    }

    @Test
    void shouldLeaveCountsWithoutACalibration() {
        Calibrator c = Calibrator.uncalibrated();
        assertEquals(123_456, c.forceN(123_456));
        assertEquals("count", c.unit());
        assertFalse(c.calibrated());
    }

    @Test
    void shouldConvertOneChannelOfABlock() {
        Calibrator c = new Calibrator(0, 2, 0);
        double[] out = new double[3];
        c.convert(new int[] {1, 10, 2, 20, 3, 30}, 1, 2, 3, out);
        assertArrayEquals(new double[] {20, 40, 60}, out);
    }

    @Test
    void shouldConvertABlockAsOneByOne() {
        Calibrator c = new Calibrator(-1234.5, 1.0 / 3, 0);
        c.setSessionZeroN(0.1);
        int[] counts = new Random(31).ints(1000).toArray();
        int[] edges = {0, 1, -1, 8_388_607, -8_388_608, Integer.MAX_VALUE, Integer.MIN_VALUE};
        System.arraycopy(edges, 0, counts, 0, edges.length);
        double[] out = new double[counts.length];
        c.convert(counts, 0, 1, counts.length, out);
        for (int i = 0; i < counts.length; i++) {
            assertEquals(Double.doubleToRawLongBits(c.forceN(counts[i])), Double.doubleToRawLongBits(out[i]));
        }
    }

    @Test
    void shouldRefuseWhatIsNoLine() {
        assertThrows(IllegalArgumentException.class, () -> new Calibrator(0, 0, 0));
        assertThrows(IllegalArgumentException.class, () -> new Calibrator(0, Double.NaN, 0));
        assertThrows(IllegalArgumentException.class, () -> new Calibrator(0, Double.POSITIVE_INFINITY, 0));
        assertThrows(IllegalArgumentException.class, () -> new Calibrator(Double.NaN, 1, 0));
        assertThrows(IllegalArgumentException.class, () -> new Calibrator(0, 1, -0.1));
        assertThrows(IllegalArgumentException.class, () -> new Calibrator(0, 1, 2));
        assertThrows(IllegalArgumentException.class, () -> new Calibrator(0, 1, 0).setSessionZeroN(Double.NaN));
    }
}
