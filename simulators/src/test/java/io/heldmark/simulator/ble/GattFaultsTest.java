package io.heldmark.simulator.ble;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.protocol.DecoderCounters;
import io.heldmark.protocol.GattDecoder;
import io.heldmark.protocol.MessageHandler;
import io.heldmark.simulator.VirtualCell;
import io.heldmark.simulator.link.GattValues;
import io.heldmark.simulator.scenario.Scenario;
import org.junit.jupiter.api.Test;

/** What goes wrong between GATT values, and what a serial scenario becomes over a radio. */
class GattFaultsTest {
    private static DecoderCounters decode(VirtualCell cell) {
        GattDecoder decoder = new GattDecoder(new MessageHandler() {});
        while (cell.advance()) {
            GattValues.each(cell.bytes(), cell.length(), decoder::accept);
        }
        return decoder.counters();
    }

    @Test
    void shouldSendGarbageAsValuesOfTheirOwnThatHarmNoMessage() {
        Scenario scenario = Scenario.parse("""
                schema: heldmark.scenario/1
                name: garbage
                invented: true
                description: One cell that sends values without a meaning.
                seed: 3
                durationS: 20
                limbs: [{name: left, maxForceN: 300}]
                cells:
                  - name: left
                    binding: gatt
                    autostart: true
                    samplesPerFrame: 29
                    channels: [{limb: left, ratedLoadN: 1000}]
                    link: {kind: interval, intervalS: 0.015}
                    faults: {garbage: {probability: 0.1, bytes: [1, 40]}}
                """, "invented");
        VirtualCell cell = new VirtualCell(scenario, 0);
        DecoderCounters counters = decode(cell);
        long garbage = cell.truth().damage().stream()
                .filter(d -> d.kind().equals("garbage"))
                .count();
        assertTrue(garbage > 20, "garbage " + garbage);
        assertEquals(garbage, counters.malformed);
        assertEquals(0, counters.gaps + counters.missingFrames + counters.duplicates + counters.reordered);
    }

    @Test
    void shouldSpeakGattWhateverTheScenarioSays() {
        Scenario demo = Scenario.bundled("demo").withGatt().withAutostart().withDurationS(5);
        DecoderCounters counters = decode(new VirtualCell(demo, 0));
        assertTrue(counters.sampleFrames > 450, "messages " + counters.sampleFrames);
        assertEquals(0, counters.malformed + counters.gaps);
    }
}
