package io.heldmark.calibrate;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.model.SampleBatch;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;

class LevelSumTest {
    private static final long MS = 1_000_000L;

    private final List<Long> times = new ArrayList<>();
    private final List<Double> sums = new ArrayList<>();
    private final List<Integer> flags = new ArrayList<>();
    private long counted;

    private LevelSum sum(double[] factors, boolean... elsewhere) {
        return new LevelSum(factors, elsewhere, b -> {
            assertEquals(
                    counted, b.firstSampleIndex - (b.has(SampleBatch.GAP_BEFORE) ? b.firstSampleIndex - counted : 0));
            counted = b.firstSampleIndex + b.count;
            for (int i = 0; i < b.count; i++) {
                times.add(b.timeNs[i]);
                sums.add(b.forceN[i]);
                flags.add(i == 0 ? b.flags : b.flags & ~SampleBatch.GAP_BEFORE);
            }
        });
    }

    private static SampleBatch batch(long fromNs, long stepNs, double fromN, double stepN, int count) {
        SampleBatch b = new SampleBatch(31);
        b.count = count;
        for (int i = 0; i < count; i++) {
            b.timeNs[i] = fromNs + i * stepNs;
            b.forceN[i] = fromN + i * stepN;
        }
        return b;
    }

    @Test
    void shouldAddLevelsOfOneFrameWithTheZerosThatWereTakenOff() {
        LevelSum sum = sum(new double[] {1, -0.5}, false, false);
        sum.add(0, batch(MS, MS, 10, 1, 4), 3); // levels 13, 14, 15, 16
        assertTrue(sums.isEmpty(), "the other term has not come");
        sum.add(1, batch(MS, MS, 2, 2, 4), 0); // 2, 4, 6, 8
        assertEquals(List.of(12.0, 12.0, 12.0, 12.0), sums);
        assertEquals(List.of(MS, 2 * MS, 3 * MS, 4 * MS), times);
        assertEquals(List.of(0, 0, 0, 0), flags);
    }

    /** A straight line is interpolated exactly, whatever the rates. */
    @Test
    void shouldInterpolateATermOfAnotherDevice() {
        LevelSum sum = sum(new double[] {1, 1}, false, true);
        sum.add(1, batch(0, 7 * MS, 0, 0.7, 31), 0); // 0.1 N a millisecond
        for (int i = 0; i < 10; i++) {
            sum.add(0, batch((3 + 20L * i) * MS, 2 * MS, 5, 0, 10), 0);
        }
        assertEquals(100, sums.size());
        for (int i = 0; i < sums.size(); i++) {
            assertEquals(5 + 0.1 * times.get(i) / MS, sums.get(i), 1e-9);
            assertEquals(SampleBatch.RESAMPLED, flags.get(i));
        }
    }

    @Test
    void shouldHaveNoSampleWhereATermHasNone() {
        LevelSum sum = sum(new double[] {1, 1}, false, true);
        sum.add(0, batch(0, MS, 1, 0, 30), 0);
        sum.add(1, batch(2 * MS, MS, 1, 0, 10), 0); // 2 to 11 ms
        SampleBatch late = batch(20 * MS, MS, 1, 0, 10); // 20 to 29 ms, after a gap
        late.flags = SampleBatch.GAP_BEFORE;
        sum.add(1, late, 0);
        assertEquals(20, sums.size());
        assertEquals(2 * MS, times.get(0));
        assertEquals(20 * MS, times.get(10));
        assertTrue((flags.get(0) & SampleBatch.GAP_BEFORE) != 0, "what came before is missing");
        assertTrue((flags.get(10) & SampleBatch.GAP_BEFORE) != 0);
        assertEquals(SampleBatch.RESAMPLED, flags.get(11));
    }

    @Test
    void shouldGiveUpWhatWaitsTooLongForASilentTerm() {
        LevelSum sum = sum(new double[] {1, 1}, false, true);
        for (int i = 0; i < 1000; i++) {
            sum.add(0, batch(i * (20 * MS), MS, 1, 0, 20), 0);
        }
        assertTrue(sums.isEmpty());
        sum.add(1, batch(19_990 * MS, MS, 1, 0, 10), 0);
        assertEquals(10, sums.size());
        assertEquals(2.0, sums.get(0));
        assertTrue((flags.get(0) & SampleBatch.GAP_BEFORE) != 0);
    }

    /** JCGM 100:2008, 5.2.2, note 1: with full correlation standard uncertainties add up, and nothing can add up to more. */
    @Test
    void shouldStateAnUncertaintyThatHoldsHoweverTheLoadIsShared() {
        double[] factors = {1, 1, 1, 1};
        double[] u = {0.001, 0.002, 0.003, 0.004};
        double stated = LevelSum.relativeU(factors, u);
        assertEquals(0.004, stated);
        double[][] loads = {{100, 100, 100, 100}, {0, 0, 0, 400}, {400, 0, 0, 0}, {10, 20, 30, 340}};
        for (double[] load : loads) {
            double worst = 0;
            for (int i = 0; i < 4; i++) {
                worst += u[i] * load[i];
            }
            assertTrue(worst <= stated * 400 + 1e-12);
        }
        assertTrue(Double.isNaN(LevelSum.relativeU(new double[] {1, -1}, new double[] {0.001, 0.001})));
        assertTrue(Double.isNaN(LevelSum.relativeU(new double[] {1, 1}, new double[] {0.001, Double.NaN})));
        assertTrue(Double.isNaN(LevelSum.relativeU(new double[] {1, 1}, new double[] {Double.NaN, 0.001})));
        assertEquals(0.001, LevelSum.relativeU(new double[] {-1}, new double[] {0.001}));
        assertEquals(5, LevelSum.resolution(new double[] {1, -2}, new double[] {3, 2}), 1e-12);
    }
}
