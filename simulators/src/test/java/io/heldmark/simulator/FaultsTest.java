package io.heldmark.simulator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.protocol.DecoderCounters;
import io.heldmark.protocol.SamplesView;
import io.heldmark.simulator.scenario.Scenario;
import io.heldmark.simulator.truth.CellTruth;
import io.heldmark.simulator.truth.ClockTruth;
import io.heldmark.simulator.truth.DamageTruth;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Each fault, alone, seen in what the codec decodes, and told by the truth. 60 s at 1000 Hz, ten samples a message. */
class FaultsTest {
    private static final int MESSAGES = 6000;

    private static Reader run(String fault) {
        Scenario scenario = Scenarios.clean(
                60,
                "efforts: [{atS: 5, repeat: {everyS: 8}}]",
                "    adc: {noiseSdN: 0.5}\n    faults: {" + fault + "}");
        return new Reader(scenario, 0).drain();
    }

    private static List<DamageTruth> damage(Reader reader, String kind) {
        return reader.cell.truth().damage().stream()
                .filter(entry -> entry.kind().equals(kind))
                .toList();
    }

    private static int lost(List<DamageTruth> damage) {
        return damage.stream().mapToInt(DamageTruth::lostSamples).sum();
    }

    /** Whatever happens: samples taken are samples decoded plus samples that the truth calls lost. */
    private static void assertAccount(Reader reader) {
        CellTruth truth = reader.cell.truth();
        int onTheWay = truth.damage().stream()
                .filter(d -> d.messages() > 0)
                .mapToInt(DamageTruth::lostSamples)
                .sum();
        // Two messages at the very end may be on the way.
        assertNear(truth.samplesTaken(), reader.samples() + onTheWay, 20);
    }

    private static void assertNear(long expected, long actual, long tolerance) {
        assertTrue(Math.abs(expected - actual) <= tolerance, "expected about " + expected + ", was " + actual);
    }

    @Test
    void shouldDamageNothingWithoutFaults() {
        Reader reader = run("");
        assertEquals(MESSAGES, reader.messages.size(), 1);
        assertEquals(List.of(), reader.cell.truth().damage());
        assertEquals(0, reader.decoder.counters().skippedBytes);
    }

    @Test
    void shouldLoseMessages() {
        Reader reader = run("loss: {probability: 0.05}");
        DecoderCounters counters = reader.decoder.counters();
        List<DamageTruth> damage = damage(reader, "loss");
        assertEquals(0.05 * MESSAGES, damage.size(), 5 * Math.sqrt(0.05 * 0.95 * MESSAGES));
        assertNear(damage.size(), counters.missingFrames, 2);
        assertTrue(counters.gaps > 200);
        assertAccount(reader);
    }

    @Test
    void shouldLoseTheMessageAtAListedTime() {
        Reader reader = run("loss: {atS: [10, 20.005, 20.006]}");
        List<DamageTruth> damage = damage(reader, "loss");
        assertEquals(3, damage.size());
        assertEquals(10, damage.get(0).toS(), 0.012);
        assertEquals(0.01, damage.get(0).toS() - damage.get(0).fromS(), 1e-4);
        assertEquals(damage.get(1).sequence() + 1, damage.get(2).sequence());
        assertEquals(3, reader.decoder.counters().missingFrames);
        assertEquals(2, reader.decoder.counters().gaps);
    }

    @Test
    void shouldDoubleMessages() {
        Reader reader = run("duplicate: {probability: 0.02}");
        assertEquals(damage(reader, "duplicate").size(), reader.decoder.counters().duplicates);
        assertTrue(reader.decoder.counters().duplicates > 60);
        assertNear(reader.cell.truth().samplesTaken(), reader.samples(), 10);
    }

    @Test
    void shouldSwapMessages() {
        Reader reader = run("reorder: {probability: 0.02}");
        int swapped = damage(reader, "reorder").size();
        assertTrue(swapped > 60, "swapped " + swapped);
        assertNear(swapped, reader.decoder.counters().reordered, 1);
        assertNear(swapped, reader.decoder.counters().gaps, 1);
        assertAccount(reader);
    }

    @Test
    void shouldChangeBytes() {
        Reader reader = run("corruption: {probability: 0.02, bytes: [1, 3]}");
        int changed = damage(reader, "corruption").size();
        assertTrue(changed > 60, "changed " + changed);
        DecoderCounters counters = reader.decoder.counters();
        assertTrue(counters.crcFailures + counters.oversized > 0.8 * changed, counters.crcFailures + " of " + changed);
        assertNear(lost(damage(reader, "corruption")), 10 * counters.missingFrames, 20);
        assertAccount(reader);
    }

    @Test
    void shouldPutGarbageBetweenMessages() {
        Reader reader = run("garbage: {probability: 0.02, bytes: [1, 40]}");
        int struck = damage(reader, "garbage").size();
        assertTrue(struck > 60, "struck " + struck);
        assertNear(struck, reader.decoder.counters().missingFrames, 2);
        assertTrue(reader.decoder.counters().skippedBytes >= struck);
        assertAccount(reader);
    }

    @Test
    void shouldHoldEverythingBackInABurstDelay() {
        Reader reader = run("burstDelay: {atS: [12.3], durationS: 0.4}");
        List<Reader.Message> inside = reader.messages.stream()
                .filter(m -> m.dueNs() > 12_300_000_000L && m.dueNs() < 12_700_000_000L)
                .toList();
        List<Reader.Message> together = reader.messages.stream()
                .filter(m -> m.dueNs() == 12_700_000_000L)
                .toList();
        assertEquals(0, inside.size());
        assertEquals(40, together.size(), 1);
        assertEquals(0, reader.decoder.counters().gaps, "late is not lost");
        assertEquals(1, damage(reader, "burst-delay").size());
    }

    @Test
    void shouldLoseWhatIsSentWhileDisconnected() {
        Reader reader = run("disconnect: {atS: [20], durationS: 1.5}");
        assertEquals(List.of(VirtualCell.Kind.LINK_DOWN, VirtualCell.Kind.LINK_UP), reader.linkChanges);
        assertEquals(
                0,
                reader.messages.stream()
                        .filter(m -> m.dueNs() > 20_000_000_000L && m.dueNs() < 21_500_000_000L)
                        .count());
        assertEquals(1500, lost(damage(reader, "disconnect")), 11);
        assertAccount(reader);
    }

    @Test
    void shouldStepTheClockAndTellTheNewSegment() {
        Reader reader = run("clockStep: {atS: [30], stepS: -7.25}");
        ClockTruth clock = reader.cell.truth().clock();
        assertEquals(2, clock.segments().size());
        assertEquals(30, clock.segments().get(1).fromS(), 1e-9);
        for (Reader.Message message : reader.messages) {
            double timeS = message.dueNs() * 1e-9;
            int segment = clock.segmentAt(timeS - 0.011);
            if (Math.abs(timeS - 30) > 0.05) {
                assertEquals(timeS - 0.01, timeOf(clock, segment, message.tick()), 0.006);
            }
        }
        assertEquals(0, reader.decoder.counters().gaps, "no message is lost");
    }

    private static double timeOf(ClockTruth clock, int segment, long tick) {
        double from = clock.segments().get(segment).fromTick();
        double sinceStart = (tick - (long) from) & 0xFFFF_FFFFL;
        return clock.trueS(segment, (long) from + sinceStart);
    }

    @Test
    void shouldBeginAnewAfterAReboot() {
        Reader reader = run("reboot: {atS: [25], durationS: 0.6}");
        assertEquals(2, reader.describes.size());
        Reader.Message first = reader.messages.stream()
                .filter(m -> m.dueNs() > 25_100_000_000L)
                .findFirst()
                .orElseThrow();
        assertEquals(0, first.sequence());
        assertTrue(first.tick() < 2000, "ticks from 0: " + first.tick());
        assertEquals(25.6, first.dueNs() * 1e-9, 0.02);
        assertEquals(600, lost(damage(reader, "reboot")), 10);
        assertEquals("reboot", reader.cell.truth().clock().segments().get(1).reason());
    }

    @Test
    void shouldSayThatTheDeviceLostSamples() {
        Reader reader = run("deviceLoss: {atS: [15, 35], samples: 37}");
        List<Reader.Message> flagged = reader.messages.stream()
                .filter(m -> (m.status() & SamplesView.STATUS_DEVICE_LOSS) != 0)
                .toList();
        assertEquals(2, flagged.size());
        assertEquals(0, reader.decoder.counters().gaps, "sequence numbers run on");
        assertEquals(60_000 - 74, reader.samples(), 12);
        assertEquals(74, lost(damage(reader, "device-loss")));
        assertEquals(74, reader.statuses.get(reader.statuses.size() - 1).lostSampleCount());
    }

    @Test
    void shouldRepeatTheLastCountsWhileTheConverterFails() {
        Reader reader = run("adcFault: {atS: [15], durationS: 0.1}");
        List<Reader.Message> flagged = reader.messages.stream()
                .filter(m -> (m.status() & SamplesView.STATUS_ADC_FAULT) != 0)
                .toList();
        assertEquals(10, flagged.size(), 1);
        int[][] inside = flagged.get(4).counts();
        for (int[] sample : inside) {
            assertEquals(inside[0][0], sample[0]);
        }
        assertEquals(1, reader.statuses.get(reader.statuses.size() - 1).adcFaultCount());
    }

    @Test
    void shouldSetTheOverloadBitAtTheEndOfTheRange() {
        Scenario scenario = Scenarios.clean(
                10, "efforts: [{atS: 4}]", "    adc: {bits: 16, countsPerNewton: 100, offsetCounts: 0}");
        Reader reader = new Reader(scenario, 0).drain();
        for (Reader.Message message : reader.messages) {
            boolean limited = false;
            for (int[] sample : message.counts()) {
                limited |= sample[0] == 32767;
                assertTrue(sample[0] <= 32767);
            }
            assertEquals(limited, (message.status() & SamplesView.STATUS_OVERLOAD) != 0);
        }
        assertTrue(reader.messages.stream().anyMatch(m -> m.status() != 0), "400 N are 40000 counts");
    }

    @Test
    void shouldWrapTheTickWithoutALoss() {
        Scenario scenario = Scenarios.clean(20, "", "    clock: {startTick: 4289967296, offsetPpm: 60}");
        Reader reader = new Reader(scenario, 0).drain();
        assertTrue(reader.messages.get(0).tick() > 0xFF00_0000L);
        assertTrue(reader.messages.get(reader.messages.size() - 1).tick() < 0x0100_0000L);
        assertEquals(0, reader.decoder.counters().gaps);
    }

    @ParameterizedTest
    @ValueSource(strings = {"direct", "interval", "serial"})
    void shouldAccountForEverySampleWithEveryFaultOnEveryLink(String kind) {
        String all = "loss: {probability: 0.01}, duplicate: {probability: 0.01}, corruption: {probability: 0.01},"
                + " reorder: {probability: 0.01}, garbage: {probability: 0.01}, burstDelay: {perMinute: 6},"
                + " disconnect: {perMinute: 3}, clockStep: {perMinute: 2}, deviceLoss: {perMinute: 10},"
                + " adcFault: {perMinute: 5}";
        Scenario scenario = Scenarios.clean(
                        120, "", "    link: {kind: " + kind + ", intervalS: 0.03}\n    faults: {" + all + "}")
                .withSeed(5);
        Reader reader = new Reader(scenario, 0).drain();
        CellTruth truth = reader.cell.truth();
        int lost = truth.damage().stream()
                .filter(d -> d.messages() > 0)
                .mapToInt(DamageTruth::lostSamples)
                .sum();
        // A message may suffer twice (spoiled by the one before and lost with the link), a reader that was reset may
        // lose a
        // message that the truth calls whole, and some are on the way at the end: within 1 %.
        assertNear(truth.samplesTaken(), reader.samples() + lost, truth.samplesTaken() / 100);
        assertTrue(lost > 2000, "lost " + lost);
    }
}
