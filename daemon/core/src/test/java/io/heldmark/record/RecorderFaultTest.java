package io.heldmark.record;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import io.heldmark.record.RecorderStatus.State;
import io.heldmark.record.Recordings.Packet;
import java.io.IOException;
import java.nio.file.AccessDeniedException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What a disk can do to a recorder: it is told in one sentence, counted, and nothing else stops. */
class RecorderFaultTest {
    @TempDir
    Path folder;

    /** A disk that is full after any number of bytes leaves a file of whole blocks and an account that adds up. */
    @Test
    void shouldFailInOneSentenceWhenTheDiskIsFullAfterAnyByte() throws Exception {
        Path empty = folder.resolve("empty.pcapng");
        Recordings.write(empty, List.of(), false);
        long header = Files.size(empty);
        for (long capacity = header; capacity < header + 170; capacity++) {
            Path file = folder.resolve("full-" + capacity + ".pcapng");
            RecorderBench bench = new RecorderBench(file, capacity, Recordings.LEFT, Recordings.RIGHT);
            assertTrue(bench.worker.open());
            int handedOver = 0;
            boolean going = true;
            while (going) {
                for (int i = 0; i < 3; i++) {
                    bench.chunk(i & 1, handedOver, new byte[] {1, 2, 3, 4, 5});
                    handedOver++;
                }
                going = bench.worker.cycle();
            }
            RecorderStatus status = bench.status();
            assertEquals(State.FAILED, status.state());
            assertTrue(status.reason().contains("the disk is full"), status.reason());
            assertTrue(status.reason().contains(file.toString()), status.reason());
            assertEquals(handedOver, status.chunks() + status.lostChunks());
            assertEquals(5 * status.lostChunks(), status.lostBytes());
            assertFalse(status.complete());
            assertEquals(Files.size(file), status.bytes());
            assertEquals(header + status.chunks() * BlockEncoder.packetBytes(5, 1), status.bytes());
            assertFalse(bench.chunk(0, 0, new byte[1]), "it stays failed");
            assertFalse(bench.worker.cycle());
            try (RecordingReader reader = RecordingReader.open(file)) {
                List<Packet> read = Recordings.readAll(reader);
                assertEquals(status.chunks() + 1, read.size());
                assertEquals(
                        "{\"event\":\"repaired\",\"removedBytes\":0}",
                        read.get(read.size() - 1).text());
            }
        }
    }

    @Test
    void shouldFailWhenTheDiskIsFullAlreadyForTheHeader() {
        RecorderBench bench = new RecorderBench(folder.resolve("none.pcapng"), 100, Recordings.LEFT);
        assertFalse(bench.worker.open());
        assertEquals(State.FAILED, bench.status().state());
        assertTrue(
                bench.status().reason().contains("the disk is full"),
                bench.status().reason());
        assertFalse(bench.chunk(0, 1, new byte[1]));
        assertEquals(1, bench.status().lostChunks());
    }

    @Test
    void shouldFailWhenASyncFails() {
        RecorderBench bench = new RecorderBench(folder.resolve("sync.pcapng"), Long.MAX_VALUE, Recordings.LEFT);
        bench.worker.open();
        bench.file.failSync();
        bench.chunk(0, 1, new byte[1]);
        bench.worker.requestSync();
        assertTrue(bench.worker.cycle(), "the sync runs beside the writing");
        assertFalse(bench.worker.cycle());
        assertTrue(
                bench.status().reason().contains("Input/output error"),
                bench.status().reason());
        assertEquals(2, bench.told.size());
        assertEquals(State.FAILED, bench.told.get(1).state());
    }

    @Test
    void shouldFailWhenTheFolderIsDeleted() throws Exception {
        Path gone = Files.createDirectory(folder.resolve("gone"));
        Path file = gone.resolve("a.pcapng");
        RecorderBench bench = new RecorderBench(file, Long.MAX_VALUE, Recordings.LEFT);
        bench.worker.open();
        Files.delete(file);
        Files.delete(gone);
        bench.chunk(0, 1, new byte[1]);
        bench.worker.requestSync();
        assertTrue(bench.worker.cycle(), "the sync runs beside the writing");
        assertFalse(bench.worker.cycle());
        assertTrue(
                bench.status().reason().contains("was deleted or moved"),
                bench.status().reason());
    }

    @Test
    void shouldFailWhenAnotherFileStandsInItsPlace() throws Exception {
        Path file = folder.resolve("swapped.pcapng");
        RecorderBench bench = new RecorderBench(file, Long.MAX_VALUE, Recordings.LEFT);
        bench.worker.open();
        Files.move(file, folder.resolve("moved.pcapng"));
        Files.writeString(file, "another");
        bench.chunk(0, 1, new byte[1]);
        bench.worker.requestSync();
        assertTrue(bench.worker.cycle(), "the sync runs beside the writing");
        assertFalse(bench.worker.cycle());
        assertTrue(
                bench.status().reason().contains("was deleted or moved"),
                bench.status().reason());
        assertEquals("another", Files.readString(file));
    }

    @Test
    void shouldFailToStartWhereTheFolderDoesNotExistOrTheFileDoes() throws Exception {
        RecorderStatus missing = startAndFail(folder.resolve("nowhere").resolve("a.pcapng"));
        assertTrue(missing.reason().contains("the folder does not exist"), missing.reason());
        Path there = Files.writeString(folder.resolve("there.pcapng"), "precious");
        RecorderStatus exists = startAndFail(there);
        assertTrue(exists.reason().contains("never overwrites"), exists.reason());
        assertEquals("precious", Files.readString(there));
    }

    @Test
    void shouldFailToStartWhereTheUserMayNotWrite() {
        Path file = folder.resolve("denied.pcapng");
        RecorderBench bench = new RecorderBench(
                () -> {
                    throw new AccessDeniedException(file.toString());
                },
                file,
                Long.MAX_VALUE);
        assertFalse(bench.worker.open());
        assertEquals(
                "Cannot record to " + file + ": this user may not write there; choose another folder or correct its"
                        + " permissions.",
                bench.status().reason());
    }

    @Test
    void shouldFailToStartInAFolderThatReallyIsReadOnly() throws Exception {
        Path readOnly = Files.createDirectory(folder.resolve("readonly"));
        assumeTrue(readOnly.toFile().setWritable(false, false));
        assumeTrue(
                !Files.isWritable(readOnly), "this user may write everywhere (root): see the test with a file system");
        RecorderStatus status = startAndFail(readOnly.resolve("a.pcapng"));
        assertTrue(status.reason().contains("this user may not write there"), status.reason());
    }

    /** On a file system of its own, where this user may mount one. */
    @Test
    void shouldTellAFullAndAReadOnlyFileSystemApart() throws Exception {
        Path disk = Files.createDirectory(folder.resolve("disk"));
        assumeTrue(
                run("mount", "-t", "tmpfs", "-o", "size=256k", "tmpfs", disk.toString()), "needs the right to mount");
        try {
            RecorderBench bench = new RecorderBench(disk.resolve("a.pcapng"), Long.MAX_VALUE, Recordings.LEFT);
            assertTrue(bench.worker.open());
            boolean going = true;
            for (int i = 0; going && i < 100; i++) {
                bench.chunk(0, i, new byte[10_000]);
                going = bench.worker.cycle();
            }
            assertFalse(going);
            assertTrue(
                    bench.status().reason().contains("the disk is full"),
                    bench.status().reason());
            assertTrue(run("mount", "-o", "remount,ro", disk.toString()));
            RecorderStatus status = startAndFail(disk.resolve("b.pcapng"));
            assertTrue(status.reason().contains("the file system is read-only"), status.reason());
            try (RecordingReader reader = RecordingReader.open(disk.resolve("a.pcapng"))) {
                assertEquals(bench.status().chunks(), Recordings.readAll(reader).size());
                assertTrue(
                        reader.notes().get(0).contains("cannot be repaired"),
                        reader.notes().get(0));
            }
        } finally {
            run("umount", disk.toString());
        }
    }

    @Test
    void shouldFailByAFaultOfItsOwnWithoutThrowing() {
        RecorderBench bench = new RecorderBench(
                () -> {
                    throw new IllegalStateException("a bug");
                },
                folder.resolve("bug.pcapng"),
                Long.MAX_VALUE);
        assertFalse(bench.worker.open());
        assertTrue(
                bench.status().reason().contains("a fault of the station"),
                bench.status().reason());
    }

    private static RecorderStatus startAndFail(Path file) {
        RecorderConfig config = RecorderConfig.withDefaults(new ManualClock());
        try (Recorder recorder = Recorder.start(file, Recordings.header(Recordings.LEFT), status -> {}, config)) {
            RecorderStatus status = recorder.awaitOpen();
            assertEquals(State.FAILED, status.state());
            assertFalse(recorder.chunk(0, 1, new byte[1], 0, 1));
            return status;
        }
    }

    private static boolean run(String... command) throws IOException, InterruptedException {
        try {
            Process process =
                    new ProcessBuilder(command).redirectErrorStream(true).start();
            process.getOutputStream().close();
            return process.waitFor(30, TimeUnit.SECONDS) && process.exitValue() == 0;
        } catch (IOException e) {
            return false; // No such command here.
        }
    }
}
