package io.heldmark.simulator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.simulator.scenario.Scenario;
import io.heldmark.simulator.truth.ChannelTruth;
import io.heldmark.simulator.truth.ClockTruth;
import java.util.Arrays;
import org.junit.jupiter.api.Test;

class VirtualCellTest {
    @Test
    void shouldSendEverySampleOfACleanCell() {
        Reader reader = new Reader(Scenario.bundled("demo").withAutostart().withDurationS(20), 0).drain();
        assertEquals(1, reader.describes.size());
        assertEquals("invented-left", reader.describes.get(0).deviceId());
        assertEquals(reader.cell.truth().samplesTaken(), reader.samples());
        // 20 s at 1000 Hz, 23 ppm fast.
        assertEquals(20_000, reader.samples(), 2);
        assertEquals(0, reader.decoder.counters().skippedBytes);
        assertEquals(0, reader.decoder.counters().gaps);
    }

    @Test
    void shouldCarryADeadWeightInPlaceOfThePerson() {
        Reader reader = new Reader(Scenario.bundled("demo").withAutostart(), 0);
        reader.cell.hang(0, 0);
        reader.drainTo(4_000_000_000L).cell.hang(98.0665, 4_000_000_000L);
        reader.drainTo(9_000_000_000L).cell.free();
        reader.drainTo(18_000_000_000L);
        // 1500 counts a newton from 84210; the noise of 0.25 N over 2 s of 1 kHz leaves 0.006 N.
        assertEquals(84_210, meanCounts(reader, 1.5, 3.5), 40);
        assertEquals(84_210 + 1500 * 98.0665, meanCounts(reader, 6, 8.5), 40);
        double person = (meanCounts(reader, 9.5, 17.5) - 84_210) / 1500;
        assertTrue(person > 10 && person < 400, "the person pulls again: " + person);
    }

    private static double meanCounts(Reader reader, double fromS, double toS) {
        return reader.messages.stream()
                .filter(m -> m.dueNs() >= fromS * 1e9 && m.dueNs() < toS * 1e9)
                .flatMapToInt(m -> Arrays.stream(m.counts()).mapToInt(sample -> sample[0]))
                .average()
                .orElse(Double.NaN);
    }

    @Test
    void shouldCarryTheTrueForceInItsCountsAndTrueTimeInItsTicks() {
        Reader reader = new Reader(Scenario.bundled("demo").withAutostart().withDurationS(30), 1).drain();
        ChannelTruth channel = reader.cell.truth().channels().get(0);
        ClockTruth clock = reader.cell.truth().clock();
        double tick = clock.segments().get(0).fromTick();
        long last = (long) tick;
        double sumOfSquares = 0;
        int n = 0;
        for (Reader.Message message : reader.messages) {
            tick += (int) (message.tick() - last);
            last = message.tick();
            double timeS = clock.trueS(0, tick + 0.5);
            assertTrue(message.dueNs() * 1e-9 > timeS, "arrives after it was taken");
            double forceN = (message.counts()[0][0] - channel.zeroCounts()) / channel.countsPerNewton();
            double error = forceN - channel.forceN(timeS);
            sumOfSquares += error * error;
            n++;
        }
        // Noise 0.25 N, hum of 0.1 N and a third harmonic of 0.02 N: sqrt(0.25^2 + 0.1^2/2 + 0.02^2/2) = 0.2602 N.
        assertEquals(0.2602, Math.sqrt(sumOfSquares / n), 0.015);
    }
}
