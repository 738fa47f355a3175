package io.heldmark.metric;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotNull;
import static org.junit.jupiter.api.Assertions.assertNull;

import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Limb;
import io.heldmark.model.Quantity;
import io.heldmark.model.SampleBatch;
import io.heldmark.model.ZeroReference;
import org.junit.jupiter.api.Test;

class LevelMeterTest {
    private static final ChannelInfo CHANNEL =
            new ChannelInfo(0, "l", "", 0, "c", Limb.LEFT, 1000, 0, 0, "N", "factory", 0.002, 0.1);

    private static SampleBatch batch(long fromMs, int n, int flags, double firstN, double stepN) {
        SampleBatch b = new SampleBatch(n);
        b.count = n;
        b.flags = flags;
        for (int i = 0; i < n; i++) {
            b.timeNs[i] = (fromMs + i) * 1_000_000L;
            b.forceN[i] = firstN + i * stepN;
        }
        return b;
    }

    @Test
    void shouldGiveTheMeanOfTheLastTenthOfASecond() {
        LevelMeter meter = new LevelMeter(CHANNEL);
        meter.setZero(ZeroReference.taken(0, 0.3, 0));
        meter.onBatch(batch(0, 300, 0, 0, 1)); // 0, 1, ... 299 N
        Quantity level = meter.level(300_000_000L);
        assertEquals(249.5, level.value(), 1e-9, "mean of 200 ... 299");
        // A straight line scatters by nothing about itself: calibration, zero and resolution remain.
        double u = Math.sqrt(Math.pow(0.002 * 249.5, 2) + 0.09 + 0.01 / 12);
        assertEquals(u, level.standardUncertainty(), 1e-9);
        assertEquals("N", level.unit());
    }

    @Test
    void shouldCountTheScatterOfItsOwnSamples() {
        LevelMeter meter = new LevelMeter(CHANNEL);
        SampleBatch b = batch(0, 100, 0, 0, 0);
        for (int i = 0; i < 100; i++) {
            b.forceN[i] = i % 2 == 0 ? 2 : -2;
        }
        meter.onBatch(b);
        double u = meter.level(100_000_000L).standardUncertainty();
        assertEquals(Math.sqrt(4.0 * 100 / 98 / 100 + 0.01 / 12), u, 1e-3);
    }

    @Test
    void shouldHaveNoLevelWithoutFreshSamples() {
        LevelMeter meter = new LevelMeter(CHANNEL);
        assertNull(meter.level(0));
        meter.onBatch(batch(0, 50, 0, 10, 0));
        assertNotNull(meter.level(500_000_000L));
        assertNull(meter.level(549_000_001L), "the newest is of 49 ms");
    }

    @Test
    void shouldForgetAtAGapAndAtANewZero() {
        LevelMeter meter = new LevelMeter(CHANNEL);
        meter.onBatch(batch(0, 100, 0, 10, 0));
        meter.onBatch(batch(120, 10, SampleBatch.GAP_BEFORE, 30, 0));
        assertEquals(30, meter.level(130_000_000L).value(), 1e-12, "no mean spans a gap");
        meter.setZero(ZeroReference.taken(0, 0.1, 0));
        assertNull(meter.level(130_000_000L));
    }

    @Test
    void shouldSurviveMoreSamplesThanTheRatePromises() {
        LevelMeter meter = new LevelMeter(CHANNEL);
        SampleBatch b = new SampleBatch(1000);
        b.count = 1000;
        for (int i = 0; i < 1000; i++) {
            b.timeNs[i] = i * 100_000L; // 10 kHz where 1 kHz was declared.
            b.forceN[i] = 5;
        }
        meter.onBatch(b);
        assertEquals(5, meter.level(100_000_000L).value(), 1e-12);
    }
}
