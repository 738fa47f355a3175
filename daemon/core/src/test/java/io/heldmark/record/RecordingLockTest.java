package io.heldmark.record;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Another program that opens a recording in progress does not take it for one that crashed, and so does not change it. */
class RecordingLockTest {
    @TempDir
    Path folder;

    @Test
    void shouldNotBeRepairedByAnotherProgramWhileItIsRecorded() throws Exception {
        Path file = folder.resolve("live.pcapng");
        RecorderBench bench = new RecorderBench(file, Long.MAX_VALUE, Recordings.LEFT);
        assertTrue(bench.worker.open());
        bench.chunk(0, 1, new byte[10]);
        bench.worker.cycle();
        long size = Files.size(file);
        assertTrue(repairElsewhere(file).contains("still being recorded"));
        assertEquals(size, Files.size(file));

        RecordingReader.open(file).close(); // On Linux this frees the recorder's lock behind its back.
        bench.worker.requestSync();
        bench.worker.cycle(); // And this takes it again.
        assertTrue(repairElsewhere(file).contains("still being recorded"));
        assertEquals(bench.status().bytes(), Files.size(file));

        bench.end();
        assertTrue(repairElsewhere(file).contains("repaired=false"), "ended properly: nothing to do");
    }

    private static String repairElsewhere(Path file) throws Exception {
        String java = Path.of(System.getProperty("java.home"), "bin", "java").toString();
        Process child = new ProcessBuilder(
                        java,
                        "-cp",
                        System.getProperty("java.class.path"),
                        RepairChild.class.getName(),
                        file.toString())
                .redirectError(ProcessBuilder.Redirect.INHERIT)
                .start();
        String printed = new String(child.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
        assertEquals(0, child.waitFor());
        return printed;
    }
}
