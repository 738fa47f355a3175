package io.heldmark.record;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.config.ConfigException;
import io.heldmark.record.RecorderStatus.State;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** When the recorder writes and syncs, on a clock that the test moves. */
class RecorderFlushTest {
    private static final long MS = 1_000_000;

    @TempDir
    Path folder;

    private RecorderBench bench(String name) {
        RecorderBench bench = new RecorderBench(folder.resolve(name), Long.MAX_VALUE, Recordings.LEFT);
        assertTrue(bench.worker.open());
        return bench;
    }

    @Test
    void shouldWriteEverythingInEveryCycle() throws Exception {
        RecorderBench bench = bench("write.pcapng");
        for (int i = 1; i <= 20; i++) {
            bench.chunk(0, i, new byte[100]);
            bench.clock.advance(100 * MS);
            assertTrue(bench.worker.cycle());
            assertEquals(bench.status().bytes(), Files.size(folder.resolve("write.pcapng")));
            assertEquals(i, bench.status().chunks());
        }
    }

    /** Items come at random moments and cycles are up to 30 ms late: none waits longer than the promised 500 ms. */
    @Test
    void shouldSyncEveryItemWithinHalfASecondOfItsHandOver() {
        for (int seed = 0; seed < 20; seed++) {
            Random random = new Random(seed);
            RecorderBench bench = bench("sync-" + seed + ".pcapng");
            bench.file.slowSync(20 * MS);
            List<long[]> waiting = new ArrayList<>(); // Hand-over time and bytes in the file once it is written.
            long written = bench.status().bytes();
            long worstNs = 0;
            long nextCycleNs = 100 * MS;
            while (bench.clock.nowNs() < 20_000 * MS) {
                bench.clock.advance(random.nextInt(40) * MS);
                if (random.nextInt(3) > 0) {
                    bench.chunk(0, bench.clock.nowNs(), new byte[100]);
                    written += BlockEncoder.packetBytes(100, Pcapng.INBOUND);
                    waiting.add(new long[] {bench.clock.nowNs(), written});
                }
                if (bench.clock.nowNs() >= nextCycleNs) {
                    assertTrue(bench.worker.cycle());
                    long synced = bench.file.syncedBytes();
                    for (long[] item : waiting) {
                        worstNs = item[1] <= synced ? Math.max(worstNs, bench.clock.nowNs() - item[0]) : worstNs;
                    }
                    waiting.removeIf(item -> item[1] <= synced);
                    nextCycleNs = bench.clock.nowNs() + (100 + random.nextInt(30)) * MS;
                }
            }
            assertTrue(worstNs > 0 && worstNs <= 500 * MS, "seed " + seed + ": worstNs=" + worstNs);
            assertTrue(bench.status().longestUnsyncedNs() >= worstNs, "the reported bound covers what happened");
            assertTrue(bench.status().longestUnsyncedNs() <= 700 * MS);
            bench.end();
        }
    }

    @Test
    void shouldSyncAtOnceWhenAsked() {
        RecorderBench bench = bench("asked.pcapng");
        bench.chunk(0, 1, new byte[10]);
        int before = bench.file.syncs();
        bench.worker.cycle();
        assertEquals(before, bench.file.syncs(), "not yet due");
        bench.worker.requestSync();
        bench.worker.cycle();
        assertEquals(before + 1, bench.file.syncs());
        assertEquals(bench.status().bytes(), bench.file.syncedBytes());
        bench.worker.cycle();
        assertEquals(before + 1, bench.file.syncs(), "nothing new, nothing to sync");
    }

    @Test
    void shouldGoOnWritingWhileASyncTakesLong() throws Exception {
        RecorderBench bench = bench("stuck.pcapng");
        List<Runnable> stuck = new ArrayList<>();
        bench.heldSyncs = stuck::add;
        for (int i = 1; i <= 50; i++) {
            bench.chunk(0, i, new byte[100]);
            bench.clock.advance(100 * MS);
            assertTrue(bench.worker.cycle());
            assertEquals(i, bench.status().chunks(), "written although the disk is busy");
        }
        assertEquals(1, stuck.size(), "one sync at a time");
        bench.heldSyncs = Runnable::run;
        stuck.get(0).run();
        assertTrue(bench.status().longestUnsyncedNs() >= 4_500 * MS);
        bench.worker.cycle();
        assertEquals(bench.status().bytes(), bench.file.syncedBytes(), "what came meanwhile is overdue");
    }

    @Test
    void shouldReportASlowDisk() {
        RecorderBench bench = bench("slow.pcapng");
        bench.file.slowSync(2_000 * MS);
        bench.chunk(0, 1, new byte[10]);
        bench.worker.requestSync();
        bench.worker.cycle();
        assertTrue(bench.status().longestUnsyncedNs() >= 2_000 * MS);
        assertEquals(State.ON, bench.status().state());
    }

    @Test
    void shouldEndWithASyncedEndEvent() throws Exception {
        RecorderBench bench = bench("end.pcapng");
        bench.chunk(0, 50, new byte[10]);
        bench.clock.advance(70);
        bench.end();
        assertEquals(State.CLOSED, bench.status().state());
        assertEquals(bench.status().bytes(), bench.file.syncedBytes());
        assertFalse(bench.chunk(0, 60, new byte[10]), "nothing is taken after the end");
        assertTrue(bench.status().complete());
        assertEquals(
                List.of(State.ON, State.CLOSED),
                bench.told.stream().map(RecorderStatus::state).toList());
        try (RecordingReader reader = RecordingReader.open(folder.resolve("end.pcapng"))) {
            List<Recordings.Packet> read = Recordings.readAll(reader);
            assertEquals(
                    "{\"event\":\"end\",\"complete\":true,\"lostChunks\":0,\"lostBytes\":0,\"lostEvents\":0}",
                    read.get(1).text());
            assertEquals(70, read.get(1).timeNs());
        }
    }

    @Test
    void shouldRefuseSettingsOutOfRange() {
        ManualClock clock = new ManualClock();
        String ring = assertThrows(ConfigException.class, () -> new RecorderConfig(clock, 1 << 20, 100, 400))
                .getMessage();
        assertEquals(
                "recorder.ringBytes=1048576 is not allowed: a power of two from 16777216 to 1073741824 bytes", ring);
        assertThrows(ConfigException.class, () -> new RecorderConfig(clock, (16 << 20) + 8, 100, 400));
        assertThrows(ConfigException.class, () -> new RecorderConfig(clock, 16 << 20, 251, 502));
        assertThrows(ConfigException.class, () -> new RecorderConfig(clock, 16 << 20, 9, 400));
        assertThrows(ConfigException.class, () -> new RecorderConfig(clock, 16 << 20, 100, 199));
        assertThrows(ConfigException.class, () -> new RecorderConfig(clock, 16 << 20, 100, 501));
    }
}
