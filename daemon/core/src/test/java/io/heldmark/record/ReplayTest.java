package io.heldmark.record;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.config.ConfigException;
import io.heldmark.link.Link;
import io.heldmark.record.RecordedItem.Kind;
import io.heldmark.record.Recordings.Packet;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A replay feeds what was recorded, in order and unchanged, whatever the pace. */
class ReplayTest {
    private static final long MS = 1_000_000;
    private static final long START_NS = 7_000 * MS;

    @TempDir
    Path folder;

    private Path file;

    /** Eleven chunks, 100 ms apart, between a linkState and the end. */
    @BeforeEach
    void record() throws Exception {
        file = folder.resolve("even.pcapng");
        try (RecordingWriter writer = RecordingWriter.create(file, Recordings.header(Recordings.LEFT))) {
            writer.event(START_NS, "{\"event\":\"linkState\",\"link\":0,\"state\":\"UP\",\"reason\":\"\"}");
            for (int i = 0; i <= 10; i++) {
                writer.chunk(0, START_NS + i * 100L * MS, new byte[] {(byte) i}, 0, 1);
            }
            writer.end(0, 0, 0, 0);
        }
    }

    @Test
    void shouldFeedEverythingInFileOrderWithItsRecordedTime() throws Exception {
        Path mixed = folder.resolve("mixed.pcapng");
        try (RecordingWriter writer = RecordingWriter.create(mixed, Recordings.header(Recordings.LEFT))) {
            writer.event(5, "{\"event\":\"linkState\",\"link\":0,\"state\":\"FAULT\",\"reason\":\"port in use\"}");
            writer.chunk(0, 20, new byte[] {1, 2}, 0, 2);
            writer.sent(0, 21, new byte[] {9}, 0, 1);
            writer.event(19, "{\"event\":\"zero\",\"channels\":[0,1]}");
            writer.event(22, "{\"result\":\"contraction\",\"id\":1}");
            writer.event(23, "{\"event\":\"clock\"}");
            writer.addLink(Recordings.RIGHT);
            writer.chunk(1, 24, new byte[] {3}, 0, 1);
            writer.end(25, 0, 0, 0);
        }
        ReplayBench bench = new ReplayBench(mixed);
        bench.replay.setSpeed(0);
        bench.run();
        assertEquals(
                List.of(
                        "state 0 5 FAULT port in use",
                        "bytes 0 20 [1, 2]",
                        "event zero 19 {\"event\":\"zero\",\"channels\":[0,1]}",
                        "event clock 23 {\"event\":\"clock\"}",
                        "link 1 tcp:localhost:9000",
                        "bytes 1 24 [3]",
                        "event end 25 {\"event\":\"end\",\"complete\":true,\"lostChunks\":0,\"lostBytes\":0,"
                                + "\"lostEvents\":0}",
                        "end "),
                bench.fed);
        assertEquals(0, bench.clock.nowNs(), "as fast as possible takes no time");
    }

    @Test
    void shouldNameItsLinksAsRecorded() throws Exception {
        Replay replay = new ReplayBench(file).replay;
        ReplayLink link = replay.links().get(0);
        assertEquals(Recordings.LEFT.name(), link.name());
        assertEquals(Link.Binding.AUTO, link.binding());
        assertEquals(Recordings.SETTINGS, replay.header().settingsJson());
        assertFalse(link.send(new byte[1], 0, 1), "nothing can be said to the past");
        replay.close();
    }

    @Test
    void shouldKeepTheRecordedPaceAtEverySpeed() throws Exception {
        for (double speed : new double[] {0.1, 0.5, 1, 3, 100}) {
            ReplayBench bench = new ReplayBench(file);
            bench.replay.setSpeed(speed);
            bench.run();
            for (int i = 0; i <= 10; i++) {
                double dueNs = i * 100L * MS / speed;
                double fedNs = bench.fedAtClockNs.get(i + 1);
                assertTrue(fedNs >= dueNs && fedNs <= dueNs + 1, "speed " + speed + ", chunk " + i + ": " + fedNs);
            }
        }
    }

    @Test
    void shouldGoOnFromWhereItWasWhenTheSpeedChanges() throws Exception {
        ReplayBench bench = new ReplayBench(file);
        bench.beforeSleep = count -> {
            if (count == 6) { // The state and chunks 0 to 4 are out; 400 ms have gone.
                bench.replay.setSpeed(0.5);
            }
        };
        bench.run();
        assertEquals(400 * MS, bench.fedAtClockNs.get(5));
        // The sleep to chunk 5 had begun at the old speed; from 500 ms on the rest takes twice as long.
        assertEquals(500 * MS, bench.fedAtClockNs.get(6));
        assertEquals(700 * MS, bench.fedAtClockNs.get(7));
        assertEquals(1_500 * MS, bench.fedAtClockNs.get(11));
    }

    @Test
    void shouldHoldStillWhilePausedAndThenGoOn() throws Exception {
        ReplayBench bench = new ReplayBench(file);
        List<Integer> fedWhilePaused = new ArrayList<>();
        bench.afterItem = count -> {
            if (count == 4) {
                bench.replay.setPaused(true);
            }
        };
        bench.beforeSleep = count -> {
            if (bench.replay.progress().paused()) {
                fedWhilePaused.add((int) count);
                assertEquals(200 * MS, bench.replay.progress().positionNs());
                bench.replay.setPaused(fedWhilePaused.size() < 5);
            }
        };
        bench.run();
        assertEquals(List.of(4, 4, 4, 4, 4), fedWhilePaused);
        assertEquals(200 * MS, bench.fedAtClockNs.get(3));
        long resumedNs = 200 * MS + 5 * 1_000 * MS; // Five idle sleeps of a second.
        assertEquals(resumedNs + 100 * MS, bench.fedAtClockNs.get(4));
        assertEquals(resumedNs + 800 * MS, bench.fedAtClockNs.get(11));
    }

    @Test
    void shouldStartAgainFromTheFirstItemWhileRunningAndAfterTheEnd() throws Exception {
        ReplayBench whole = new ReplayBench(file);
        whole.run();
        ReplayBench bench = new ReplayBench(file);
        bench.afterItem = count -> {
            if (count == 5) {
                bench.replay.restart();
            }
        };
        int[] ends = {0};
        bench.atEnd = () -> {
            assertTrue(bench.replay.progress().ended());
            ends[0]++;
            if (ends[0] == 1) {
                bench.replay.restart();
            } else {
                bench.replay.close();
            }
        };
        bench.run();
        List<String> expected = new ArrayList<>(whole.fed.subList(0, 5));
        expected.add("restart");
        expected.addAll(whole.fed);
        expected.add("restart");
        expected.addAll(whole.fed);
        assertEquals(expected, bench.fed);
        int second = whole.fed.size() + 6;
        long restartedNs = bench.fedAtClockNs.get(second);
        assertEquals(restartedNs + 1_000 * MS, bench.fedAtClockNs.get(second + 12), "paced again from the start");
    }

    @Test
    void shouldTellHowFarItIs() throws Exception {
        ReplayBench bench = new ReplayBench(file);
        bench.afterItem = count -> {
            assertEquals(1_000 * MS, bench.replay.progress().durationNs());
            assertFalse(bench.replay.progress().ended());
        };
        bench.run();
        ReplayProgress end = bench.replay.progress();
        assertEquals(new ReplayProgress(1_000 * MS, 1_000 * MS, 1, false, true), end);
    }

    @Test
    void shouldFeedTheSameWhateverThePace() throws Exception {
        Path random = folder.resolve("random.pcapng");
        List<Packet> items = Recordings.randomItems(new Random(8), 400);
        Recordings.write(random, items, true);
        List<List<String>> runs = new ArrayList<>();
        for (double speed : new double[] {0, 0.1, 1, 50}) {
            ReplayBench bench = new ReplayBench(random);
            bench.replay.setSpeed(speed);
            bench.run();
            runs.add(bench.fed);
        }
        assertEquals(1, runs.stream().distinct().count());
        long replayed = items.stream().filter(item -> item.kind() != Kind.SENT).count();
        assertEquals(replayed + 2, runs.get(0).size());
    }

    /** On its own thread and the system's clock, into a queue far too small: the replay waits and drops nothing. */
    @Test
    void shouldWaitForASlowReceiverAndDropNothing() throws Exception {
        BlockingQueue<String> queue = new ArrayBlockingQueue<>(1);
        ReplayBench reference = new ReplayBench(file);
        reference.replay.setSpeed(0);
        reference.run();
        try (Replay replay = Replay.open(file, new BlockingSink(queue), new ManualClock())) {
            replay.links().get(0).start(new BlockingSink(queue));
            replay.setSpeed(0);
            replay.start();
            for (String expected : reference.fed) {
                assertTrue(expected.startsWith(queue.take()), expected);
            }
        }
    }

    @Test
    void shouldLetGoOfABlockedReceiverWhenClosed() throws Exception {
        BlockingQueue<String> queue = new ArrayBlockingQueue<>(1);
        Replay replay = Replay.open(file, new BlockingSink(queue), new ManualClock());
        replay.links().get(0).start(new BlockingSink(queue));
        replay.setSpeed(0);
        replay.start();
        queue.take();
        replay.close(); // Returns although nobody takes from the queue any more.
        assertFalse(replay.progress().ended());
    }

    @Test
    void shouldRefuseToStartWhileALinkWouldLoseItsBytes() throws Exception {
        try (Replay replay = Replay.open(file, new BlockingSink(new ArrayBlockingQueue<>(1)), new ManualClock())) {
            assertThrows(IllegalStateException.class, replay::start);
        }
    }

    @Test
    void shouldRefuseSpeedsOutOfRange() throws Exception {
        try (Replay replay = new ReplayBench(file).replay) {
            for (double speed : new double[] {-1, 0.09, 100.1, Double.NaN, Double.POSITIVE_INFINITY}) {
                String line = assertThrows(ConfigException.class, () -> replay.setSpeed(speed))
                        .getMessage();
                assertEquals("speed=" + speed + " is not allowed: 0 (as fast as possible) or 0.1 to 100", line);
            }
        }
    }

    @Test
    void shouldSayAtTheEndThatTheFileHadToBeRepaired() throws Exception {
        byte[] bytes = Files.readAllBytes(file);
        Files.write(file, Arrays.copyOf(bytes, bytes.length - 5));
        ReplayBench bench = new ReplayBench(file);
        bench.run();
        String last = bench.fed.get(bench.fed.size() - 1);
        assertTrue(last.contains("it was repaired"), last);
        String event = bench.fed.get(bench.fed.size() - 2);
        assertTrue(event.startsWith("event repaired 8000000000 "), event);
    }

    @Test
    void shouldPassOverWhatIsNoEventAndSaySo() throws Exception {
        Path odd = folder.resolve("odd.pcapng");
        try (RecordingWriter writer = RecordingWriter.create(odd, Recordings.header(Recordings.LEFT))) {
            writer.event(1, "not json");
            writer.event(2, "{\"event\":\"linkState\",\"link\":7,\"state\":\"UP\"}");
            writer.event(3, "{\"event\":\"linkState\",\"link\":0,\"state\":\"SIDEWAYS\"}");
            writer.end(4, 0, 0, 0);
        }
        ReplayBench bench = new ReplayBench(odd);
        bench.run();
        assertEquals(2, bench.fed.size());
        assertEquals(3, bench.replay.notes().size(), () -> String.valueOf(bench.replay.notes()));
    }

    @Test
    void shouldEndInsteadOfThrowingWhenTheReceiverFails() throws Exception {
        ReplayBench bench = new ReplayBench(file);
        bench.afterItem = count -> {
            if (count == 3) {
                throw new IllegalStateException("a bug");
            }
        };
        bench.run();
        assertEquals(4, bench.fed.size());
        assertTrue(bench.fed.get(3).contains("a fault of the station"), bench.fed.get(3));
    }

    @Test
    void shouldRefuseABindingThatItDoesNotKnow() throws Exception {
        Path future = folder.resolve("future.pcapng");
        try (RecordingWriter writer =
                RecordingWriter.create(future, Recordings.header(new LinkHeader("x:y", "LASER", "{}")))) {
            writer.end(1, 0, 0, 0);
        }
        String line = assertThrows(RecordingException.class, () -> new ReplayBench(future))
                .getMessage();
        assertTrue(line.contains("has the binding LASER"), line);
    }
}
