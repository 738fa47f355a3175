package io.heldmark.pipeline;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.config.Config;
import io.heldmark.model.Contraction.Revision;
import io.heldmark.model.LinkHealth;
import io.heldmark.time.SystemStationClock;
import java.nio.file.Path;
import java.util.Map;
import java.util.Objects;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** A recorded session gives the same calls when it is replayed, bit for bit. */
@Timeout(value = 120, unit = TimeUnit.SECONDS)
class StationReplayTest {
    private static final Path SCENARIOS = Path.of(System.getProperty("heldmark.root"), "simulators", "scenarios");

    @TempDir
    Path folder;

    @Test
    void shouldReplayASessionBitForBit() throws Exception {
        EventLog live = new EventLog();
        Path file = folder.resolve("demo.pcapng");
        VirtualSession session = new VirtualSession(SCENARIOS.resolve("demo.yaml"), live, file);
        session.run(30);

        long finals = live.contractions.stream()
                .filter(c -> c.revision() == Revision.FINAL)
                .count();
        long truth = session.cells.stream()
                .flatMap(c -> c.truth().channels().stream())
                .flatMap(c -> c.contractions().stream())
                .filter(c -> c.offsetS() < 28)
                .count();
        assertTrue(truth >= 4, "true contractions: " + truth);
        assertTrue(finals >= truth, "true " + truth + ", found " + finals);
        assertTrue(live.timeIncreases, "sample times increase strictly");
        assertTrue(live.zeros.stream().anyMatch(z -> z.state().equals("taken")), live.zeros::toString);
        assertSameReplay(live, file);
    }

    @Test
    void shouldReplayASessionFullOfFaultsBitForBit() throws Exception {
        EventLog live = new EventLog();
        Path file = folder.resolve("faults.pcapng");
        VirtualSession session = new VirtualSession(SCENARIOS.resolve("faults.yaml"), live, file);
        session.run(60);

        assertTrue(live.samples > 10_000, "samples: " + live.samples);
        assertTrue(live.gaps > 0, "gaps are marked");
        assertTrue(live.timeIncreases, "sample times increase strictly");
        LinkHealth last = live.health.get(live.health.size() - 1);
        assertTrue(last.lostSamples() > 0 && last.crcFailures() > 0, last::toString);
        assertSameReplay(live, file);
    }

    private void assertSameReplay(EventLog live, Path file) throws InterruptedException {
        EventLog replayed = new EventLog();
        // Operation settings of the replaying station must not matter, nor result settings other than the file's.
        StationOptions options = new StationOptions(
                Config.resolve(Map.of(), Map.of("queue.chunks", "64", "trace.lowPassHz", "7")),
                folder,
                new SystemStationClock(),
                "test",
                true);
        try (Station station = Station.replay(options, file)) {
            station.addListener(replayed);
            station.replaySpeed(0);
            station.start();
            while (!Objects.requireNonNull(station.replayState()).ended()) {
                Thread.sleep(5);
            }
        }
        for (int i = 0; i < Math.min(live.lines.size(), replayed.lines.size()); i++) {
            assertEquals(live.lines.get(i), replayed.lines.get(i), "event " + i);
        }
        assertArrayEquals(live.bytes(), replayed.bytes());
    }
}
