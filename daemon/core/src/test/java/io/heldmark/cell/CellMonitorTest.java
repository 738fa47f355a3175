package io.heldmark.cell;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotNull;
import static org.junit.jupiter.api.Assertions.assertNull;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Limb;
import java.util.List;
import java.util.SplittableRandom;
import java.util.function.IntToDoubleFunction;
import org.junit.jupiter.api.Test;

/** Figures of invented cells whose faults are known. */
class CellMonitorTest {
    private static final long MS = 1_000_000L;
    private static final double N_PER_COUNT = 0.01;

    private final SplittableRandom random = new SplittableRandom(5);
    private CellMonitor monitor = new CellMonitor(channel("serial:/dev/invented"));
    private long sample;
    private long arrivalNs;

    private static ChannelInfo channel(String link) {
        return new ChannelInfo(
                0, link, "cell", 0, "left", Limb.LEFT, 1000, 0, 2000, "N", "factory", 0.002, N_PER_COUNT);
    }

    /** Ten samples a message, one message every 10 ms unless said otherwise. */
    private void feed(double seconds, IntToDoubleFunction counts) {
        long end = sample + Math.round(seconds * 1000);
        while (sample < end) {
            arrivalNs = Math.max(arrivalNs, (sample + 10) * MS + 2 * MS);
            monitor.beginMessage(arrivalNs, (sample + 9) * MS, false, false, 10);
            for (int i = 0; i < 10; i++, sample++) {
                monitor.add((int) Math.round(counts.applyAsDouble((int) sample)));
            }
        }
    }

    private List<String> advice() {
        return CellAdvice.of(monitor.report(), null).stream()
                .map(CellAdvice::id)
                .toList();
    }

    @Test
    void shouldSayNothingBeforeThereIsEnough() {
        CellReport none = monitor.report();
        assertNull(none.noise());
        assertNull(none.spectrum());
        assertEquals(0, none.range().samples());
        assertEquals(0, none.arrivals().intervals().count());
        assertEquals(List.of(), CellAdvice.of(none, null));
        feed(0.6, i -> random.nextGaussian());
        assertNotNull(monitor.report().noise());
        assertNull(monitor.report().spectrum());
    }

    @Test
    void shouldMeasureTheNoiseOfASoundCell() {
        feed(30, i -> 5000 + 8 * random.nextGaussian());
        CellReport report = monitor.report();
        NoiseFigures noise = report.noise();
        assertNotNull(noise);
        assertEquals(8000, noise.samples());
        assertEquals(8, noise.rms(), 0.3);
        assertEquals(8, noise.whiteRms(), 0.3);
        assertEquals(5000, noise.meanCounts(), 1);
        assertEquals(6.6 * noise.rms(), noise.noiseFreeCounts());
        assertTrue(noise.peakToPeak() > 6 * 8 && noise.peakToPeak() < 10 * 8);
        assertEquals(30, report.drift().seconds());
        assertEquals(0, report.drift().countsPerMinute(), 1.5);
        assertEquals(10.0 * MS, (double) report.arrivals().intervals().p50Ns(), 0.01 * 10 * MS);
        assertEquals(3.0 * MS, (double) report.arrivals().delays().p50Ns(), 0.02 * 3 * MS);
        assertEquals(List.of(), advice());
    }

    @Test
    void shouldSeeHum() {
        feed(10, i -> 4 * random.nextGaussian() + 20 * Math.sin(2 * Math.PI * 50 * i / 1000));
        assertEquals(List.of("hum"), advice());
    }

    @Test
    void shouldSeeACoarseCellAndOneThatDrifts() {
        feed(20, i -> 100 * random.nextGaussian());
        assertEquals(List.of("noisy"), advice());
        monitor = new CellMonitor(channel("serial:/dev/invented"));
        feed(120, i -> 8 * random.nextGaussian() + 0.005 * i);
        assertEquals(300, monitor.report().drift().countsPerMinute(), 3, "5 counts a second");
        assertEquals(List.of("drifting"), advice());
    }

    @Test
    void shouldSeeAConverterThatIsNotConnected() {
        feed(5, i -> 17);
        assertEquals(List.of("still"), advice());
        // A generator's ramp, one count a sample up and down: it does move.
        feed(9, i -> Math.abs(i % 2000 - 1000));
        assertEquals(List.of("moved"), advice());
    }

    @Test
    void shouldNotJudgeACellThatIsPulled() {
        feed(5, i -> 8 * random.nextGaussian() + 20_000 * Math.sin(i / 700.0));
        assertEquals(List.of("moved"), advice());
    }

    @Test
    void shouldJudgeTheRestAfterAPull() {
        feed(8, i -> 8 * random.nextGaussian() + 20_000 * Math.sin(i / 700.0));
        feed(2.5, i -> 8 * random.nextGaussian());
        NoiseFigures noise = monitor.report().noise();
        assertNotNull(noise);
        assertEquals(2000, noise.samples());
        assertEquals(8, noise.rms(), 0.5);
        assertEquals(List.of(), advice());
    }

    @Test
    void shouldSeeOverloadAndKeepTheExtremes() {
        feed(2, i -> 8 * random.nextGaussian());
        monitor.beginMessage(arrivalNs + 10 * MS, arrivalNs, false, true, 10);
        monitor.add(8_388_607);
        monitor.add(-500);
        assertEquals(10, monitor.report().range().overloaded());
        assertEquals(8_388_607, monitor.report().range().highest());
        assertTrue(monitor.report().range().lowest() <= -500);
        assertEquals("overloaded", advice().get(0));
    }

    @Test
    void shouldSeeTheLatencyTimerOfAUsbAdapter() {
        for (int i = 0; i < 400; i++) {
            arrivalNs += i % 8 == 0 ? 16 * MS : MS / 20;
            monitor.beginMessage(arrivalNs, arrivalNs - 5 * MS, false, false, 2);
            monitor.add((int) Math.round(8 * random.nextGaussian()));
            monitor.add((int) Math.round(8 * random.nextGaussian()));
        }
        assertEquals(List.of("bunched"), advice());
    }

    @Test
    void shouldTakeNoStretchOverAGap() {
        feed(8, i -> 8 * random.nextGaussian());
        monitor.beginMessage(arrivalNs + 10 * MS, arrivalNs, true, false, 1);
        monitor.add(0);
        assertNull(monitor.report().noise());
        monitor.linkDown();
        long intervals = monitor.report().arrivals().intervals().count();
        monitor.beginMessage(arrivalNs + 60_000 * MS, arrivalNs, false, false, 1);
        assertEquals(intervals, monitor.report().arrivals().intervals().count());
    }

    @Test
    void shouldThinTheDriftOfHalfAnHour() {
        CellMonitor slow = new CellMonitor(
                new ChannelInfo(0, "x", "", 0, "a", Limb.NONE, 10, 0, 0, "count", "unknown", Double.NaN, 1));
        for (int i = 0; i < 10 * 2500; i++) {
            slow.add(i / 10);
        }
        Drift drift = slow.report().drift();
        assertEquals(1800, drift.seconds());
        assertEquals(60, drift.countsPerMinute(), 1e-9);
        assertEquals(300, drift.means().size());
        assertEquals(2499, drift.means().get(299));
        assertEquals(6, drift.stepS());
        assertEquals(6, drift.means().get(1) - drift.means().get(0), 1e-9);
    }
}
