package io.heldmark.pipeline;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.config.Config;
import io.heldmark.model.SampleBatch;
import io.heldmark.model.TraceFilter;
import java.util.Arrays;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class TraceChainTest {
    private static TraceChain chain(String lowPassHz, String notchHz, double sampleRateHz) {
        return new TraceChain(
                Config.resolve(Map.of(), Map.of("trace.lowPassHz", lowPassHz, "trace.notchHz", notchHz)), sampleRateHz);
    }

    private static SampleBatch batch(double valueN, int flags) {
        SampleBatch batch = new SampleBatch(10);
        batch.count = 10;
        batch.flags = flags;
        Arrays.fill(batch.forceN, valueN);
        return batch;
    }

    @ParameterizedTest
    @CsvSource({
        "0, 0, 1000, none",
        "40, 0, 1000, 'low-pass at 40.00 Hz (Butterworth, order 2)'",
        "40, 0, 100, none",
        "40, 0, 101, 'low-pass at 40.00 Hz (Butterworth, order 2)'",
        "0, 50, 126, notch at 50 Hz",
        "0, 60, 150, none",
        "2.5, 50, 1000, 'notch at 50 Hz, low-pass at 2.500 Hz (Butterworth, order 2)'"
    })
    void shouldDeclareTheFiltersThatTheRateAllows(String lowPassHz, String notchHz, double rateHz, String words) {
        TraceChain chain = chain(lowPassHz, notchHz, rateHz);
        assertEquals(words, chain.description().description());
        assertEquals(words.equals("none"), chain.passesUnchanged());
        assertEquals(words.equals("none"), chain.description().equals(TraceFilter.NONE));
    }

    /** A second-order Butterworth low-pass at 40 Hz delays slow changes by sqrt(2) / (2 pi 40 Hz), about 5.6 ms. */
    @Test
    void shouldDeclareItsDelay() {
        assertEquals(
                Math.sqrt(2) / (2 * Math.PI * 40),
                chain("40", "0", 1000).description().delayS(),
                1e-4);
    }

    @Test
    void shouldSettleOnTheFirstSampleAfterWhateverBreaksTheTrace() {
        double[] still = new double[10];
        Arrays.fill(still, 500);
        for (int flag : new int[] {0, SampleBatch.GAP_BEFORE, SampleBatch.CLOCK_RESTARTED}) {
            TraceChain chain = chain("40", "50", 1000);
            if (flag != 0) {
                chain.process(batch(-300, 0));
            }
            SampleBatch next = batch(500, flag);
            chain.process(next);
            assertArrayEquals(still, next.forceN, 1e-6, "flag " + flag);
        }
        TraceChain chain = chain("40", "0", 1000);
        chain.process(batch(-300, 0));
        chain.settleOnNext(); // a new zero
        SampleBatch next = batch(500, 0);
        chain.process(next);
        assertArrayEquals(still, next.forceN, 1e-6);
    }

    @Test
    void shouldGoOnSmoothlyWithinATrace() {
        TraceChain chain = chain("40", "0", 1000);
        chain.process(batch(0, 0));
        SampleBatch empty = batch(0, 0);
        empty.count = 0;
        chain.process(empty);
        SampleBatch next = batch(500, SampleBatch.OVERLOAD);
        chain.process(next);
        assertTrue(next.forceN[0] > 0 && next.forceN[0] < 50, "first " + next.forceN[0]);
        for (int i = 1; i < 10; i++) {
            assertTrue(next.forceN[i] > next.forceN[i - 1]);
        }
        assertFalse(next.forceN[9] > 500);
    }
}
