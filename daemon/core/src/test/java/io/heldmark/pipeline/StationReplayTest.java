package io.heldmark.pipeline;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotNull;
import static org.junit.jupiter.api.Assertions.assertNull;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.config.Config;
import io.heldmark.model.Bend;
import io.heldmark.model.Boundaries;
import io.heldmark.model.CellCalibration;
import io.heldmark.model.Contraction;
import io.heldmark.model.Contraction.Revision;
import io.heldmark.model.Effort;
import io.heldmark.model.LinkHealth;
import io.heldmark.model.TestConditions;
import io.heldmark.model.TrialConditions;
import io.heldmark.simulator.scenario.Scenario;
import io.heldmark.testing.Until;
import io.heldmark.time.SystemStationClock;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.concurrent.TimeUnit;
import org.jspecify.annotations.Nullable;
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
        assertSameReplay(live, file, folder);
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
        assertSameReplay(live, file, folder);
    }

    @Test
    void shouldReplayBoundariesMovedByHandBitForBit() throws Exception {
        EventLog live = new EventLog();
        Path file = folder.resolve("manual.pcapng");
        VirtualSession session = new VirtualSession(SCENARIOS.resolve("demo.yaml"), live, file);
        session.setPerson(new Analyst(live)::at);
        session.run(30);

        Effort first = live.efforts.get(0);
        long id = first.leftContractionId();
        List<Contraction> revisions = live.contractions.stream()
                .filter(c -> c.id() == id && c.revision() != Revision.PROVISIONAL)
                .toList();
        // Found; moved; moved; back; again; automatic.
        assertEquals(
                List.of(
                        Revision.FINAL,
                        Revision.MANUAL,
                        Revision.MANUAL,
                        Revision.MANUAL,
                        Revision.MANUAL,
                        Revision.FINAL),
                revisions.stream().map(Contraction::revision).toList());
        Contraction found = revisions.get(0);
        assertEquals(found.onsetNs() + 5_000_000L, revisions.get(1).onsetNs());
        assertEquals(found.offsetNs() - 40_000_000L, revisions.get(2).offsetNs());
        assertEquals(revisions.get(1), revisions.get(3));
        assertEquals(revisions.get(2), revisions.get(4));
        assertEquals(found, revisions.get(5));
        assertEquals(found.metrics().size(), revisions.get(1).metrics().size());
        List<Effort> efforts =
                live.efforts.stream().filter(e -> e.id() == first.id()).toList();
        assertEquals(6, efforts.size(), "the effort is told again with every step");
        assertEquals(first.onsetLagNs() + 5_000_000L, efforts.get(1).onsetLagNs());
        assertEquals(first, efforts.get(5));
        assertEquals(
                1,
                live.lines.stream()
                        .filter(l -> l.contains("A boundary was not moved"))
                        .count());
        assertSameReplay(live, file, folder);
    }

    /** The best two of a limb differ by 15 %: whoever moves the onset of the one that is flagged does not lose the warning. */
    @Test
    void shouldJudgeTheSpreadOfTheTrialsAgainWhenABoundaryIsMoved() throws Exception {
        String uneven = Files.readString(SCENARIOS.resolve("demo.yaml"))
                .replace("percentOfMax: [88, 97]", "percentOfMax: [84, 86]")
                .replace("percentOfMax: [80, 95]", "percentOfMax: [99, 100]");
        EventLog live = new EventLog();
        VirtualSession session = new VirtualSession(Scenario.parse(uneven, "uneven"), live, null);
        boolean[] done = {false};
        session.setPerson(nowNs -> {
            Contraction flagged = live.contractions.stream()
                    .filter(c -> c.flags().contains("trial-spread"))
                    .findFirst()
                    .orElse(null);
            if (flagged == null || done[0]) {
                return null;
            }
            done[0] = true;
            Boundaries to = new Boundaries(flagged.onsetNs() + 2_000_000, flagged.releaseStartNs(), flagged.offsetNs());
            return new StationEvent.BoundaryChanged(BoundaryChange.move(flagged, to), nowNs);
        });
        session.run(25);
        List<Contraction> moved = live.contractions.stream()
                .filter(c -> c.revision() == Revision.MANUAL)
                .toList();
        assertEquals(1, moved.size());
        assertTrue(moved.get(0).flags().contains("trial-spread"), moved::toString);
    }

    /** A parabola that is chosen in the middle of a session holds from there on, in the session and in its replay. */
    @Test
    void shouldReplayACalibrationThatWasChosenBitForBit() throws Exception {
        EventLog live = new EventLog();
        Path file = folder.resolve("chosen.pcapng");
        VirtualSession session = new VirtualSession(SCENARIOS.resolve("demo.yaml"), live, file);
        CellCalibration cell = new CellCalibration(
                700, Double.NaN, 5e-4, "plates", List.of(0.01, 0., 0., 0., 1e-6, 0., 0., 0., 1e-13));
        StationCalibration bent = new StationCalibration(84_210, 1 / 1500.0, 0.0012, cell, new Bend(1e-5, 0, 700));
        BoundCalibration chosen = new BoundCalibration("invented-left/0 v1", "invented-left", 0, bent, false);
        boolean[] done = {false};
        session.setPerson(nowNs -> {
            boolean now = nowNs >= 9_500_000_000L && !done[0];
            done[0] |= now;
            return now ? new StationEvent.CalibrationChosen(chosen, nowNs) : null;
        });
        session.run(40);

        List<Contraction> finals = live.contractions.stream()
                .filter(c -> c.revision() == Revision.FINAL && c.channel() == 0)
                .toList();
        assertTrue(finals.size() >= 3, "contractions: " + finals.size());
        assertTrue(live.lines.stream().anyMatch(l -> l.contains("\"station\"")), "the channel says so");
        assertSameReplay(live, file, folder);
    }

    @Test
    void shouldMoveBoundariesWhileARecordingIsPlayed() throws Exception {
        Path file = folder.resolve("played.pcapng");
        new VirtualSession(SCENARIOS.resolve("demo.yaml"), new EventLog(), file).run(20);
        StationOptions options =
                new StationOptions(Config.resolve(Map.of(), Map.of()), folder, new SystemStationClock(), "test", true);
        EventLog seen = new EventLog();
        try (Station station = Station.replay(options, file)) {
            station.addListener(seen);
            station.replaySpeed(0);
            station.start();
            while (!Objects.requireNonNull(station.replayState()).ended()) {
                Thread.sleep(5);
            }
            Contraction found = Objects.requireNonNull(station.review(1)).automatic();
            long onsetNs = found.onsetNs() + 3_000_000L;
            BoundaryChange move =
                    BoundaryChange.move(found, new Boundaries(onsetNs, found.releaseStartNs(), found.offsetNs()));
            assertNull(station.boundaryRefusal(move));
            assertTrue(station.changeBoundary(move));
            Review review = Objects.requireNonNull(station.review(1));
            assertEquals(onsetNs, review.inForce().onsetNs());
            assertEquals(found, review.automatic());
            assertEquals(review.inForce(), seen.contractions.get(seen.contractions.size() - 1));
            assertNotNull(station.boundaryRefusal(
                    BoundaryChange.move(found, new Boundaries(found.offsetNs(), onsetNs, found.offsetNs()))));
        }
        byte[] recorded = Files.readAllBytes(file);
        shouldFindTheMoveWhenItIsPlayedAgain(options, file);
        shouldFindTheMoveInAnAnalysis(file);
        assertArrayEquals(recorded, Files.readAllBytes(file), "a recording is never changed");
    }

    private void shouldFindTheMoveWhenItIsPlayedAgain(StationOptions options, Path file) throws Exception {
        EventLog again = new EventLog();
        try (Station station = Station.replay(options, file)) {
            station.addListener(again);
            station.replaySpeed(0);
            station.start();
            Until.so(() -> Objects.requireNonNull(station.replayState()).ended());
            Review review = Objects.requireNonNull(station.review(1));
            Contraction found = review.automatic();
            assertEquals(found.onsetNs() + 3_000_000L, review.inForce().onsetNs());
            assertTrue(
                    station.changeBoundary(BoundaryChange.step(found, BoundaryChange.Kind.UNDO)),
                    "it can be taken back");
            assertEquals(found, Objects.requireNonNull(station.review(1)).inForce());
            assertTrue(station.changeBoundary(BoundaryChange.step(found, BoundaryChange.Kind.REDO)));
        }
        assertEquals(
                List.of(Revision.FINAL, Revision.MANUAL, Revision.FINAL, Revision.MANUAL),
                again.contractions.stream()
                        .filter(c -> c.id() == 1 && c.revision() != Revision.PROVISIONAL)
                        .map(Contraction::revision)
                        .toList());
    }

    private static void shouldFindTheMoveInAnAnalysis(Path file) throws Exception {
        List<Contraction> contractions = new ArrayList<>();
        List<String> notes = new ArrayList<>();
        AnalysisListener out = new AnalysisListener() {
            @Override
            public void onStart(AnalysisStart start) {}

            @Override
            public void onEnd(boolean complete, List<String> told) {
                notes.addAll(told);
            }

            @Override
            public void onContraction(Contraction contraction) {
                contractions.add(contraction);
            }
        };
        RecordingAnalysis.runOnTwoThreads(
                file, Config.defaults(), TrialConditions.always(TestConditions.UNKNOWN), List.of(), 0, out);
        List<Contraction> first = contractions.stream()
                .filter(c -> c.id() == 1 && c.revision() != Revision.PROVISIONAL)
                .toList();
        assertEquals(2, first.size());
        assertEquals(first.get(0).onsetNs() + 3_000_000L, first.get(1).onsetNs());
        assertEquals(
                List.of("Boundaries that were moved after the session are in force: 1 of 1 contractions in"
                        + " played.boundaries.json."),
                notes);
    }

    /** Works on the left contraction of the first effort, a step a second, and asks once for nonsense. */
    private static final class Analyst {
        private final EventLog seen;
        private int step;
        private long nextNs;

        private Analyst(EventLog seen) {
            this.seen = seen;
        }

        private @Nullable StationEvent at(long nowNs) {
            if (seen.efforts.isEmpty() || nowNs < nextNs || step > 5) {
                return null;
            }
            nextNs = nowNs + 1_000_000_000L;
            long id = seen.efforts.get(0).leftContractionId();
            Contraction found = seen.contractions.stream()
                    .filter(c -> c.id() == id && c.revision() == Revision.FINAL)
                    .findFirst()
                    .orElseThrow();
            return new StationEvent.BoundaryChanged(change(found, step++), nowNs);
        }

        private static BoundaryChange change(Contraction c, int step) {
            long onsetNs = c.onsetNs() + 5_000_000L;
            return switch (step) {
                case 0 -> BoundaryChange.move(c, new Boundaries(onsetNs, c.releaseStartNs(), c.offsetNs()));
                case 1 ->
                    BoundaryChange.move(c, new Boundaries(onsetNs, c.releaseStartNs(), c.offsetNs() - 40_000_000L));
                case 2 -> BoundaryChange.step(c, BoundaryChange.Kind.UNDO);
                case 3 -> BoundaryChange.step(c, BoundaryChange.Kind.REDO);
                case 4 -> BoundaryChange.move(c, new Boundaries(c.offsetNs(), c.releaseStartNs(), c.offsetNs()));
                default -> BoundaryChange.step(c, BoundaryChange.Kind.AUTOMATIC);
            };
        }
    }

    /** Replays a recording and compares every call with those of the session. */
    static void assertSameReplay(EventLog live, Path file, Path folder) throws InterruptedException {
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
