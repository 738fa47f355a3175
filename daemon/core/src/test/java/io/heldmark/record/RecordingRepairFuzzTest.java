package io.heldmark.record;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;

import com.code_intelligence.jazzer.junit.FuzzTest;
import io.heldmark.record.Recordings.Packet;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;

/**
 * Whatever the bytes, a repair keeps every whole block and every packet, and there is nothing to do a second time.
 *
 * <p>Plain runs feed the corpus. To fuzz: {@code JAZZER_FUZZ=1 mvn -pl daemon/core -am test
 * -Dtest=RecordingRepairFuzzTest -Dsurefire.failIfNoSpecifiedTests=false}.
 */
class RecordingRepairFuzzTest {
    @FuzzTest(maxDuration = "2m")
    void shouldRepairAnythingWithoutTouchingWholeBlocks(byte[] bytes) throws IOException {
        Path file = Files.createTempFile("fuzz", ".pcapng");
        try {
            Files.write(file, bytes);
            repair(file, bytes);
        } catch (RecordingException refused) {
            assertArrayEquals(
                    bytes, Files.readAllBytes(file), "what is refused is left alone: " + refused.getMessage());
        } finally {
            Files.delete(file);
        }
    }

    private static void repair(Path file, byte[] bytes) throws IOException, RecordingException {
        List<Packet> before;
        try (RecordingReader reader = RecordingReader.openUnchanged(file)) {
            before = Recordings.readAll(reader);
        }
        Repair repair = RecordingReader.repair(file);
        int kept = bytes.length - (int) repair.removedBytes();
        assertArrayEquals(Arrays.copyOf(bytes, kept), Arrays.copyOf(Files.readAllBytes(file), kept));
        try (RecordingReader reader = RecordingReader.openUnchanged(file)) {
            List<Packet> after = Recordings.readAll(reader);
            assertEquals(before, after.subList(0, before.size()));
            assertEquals(before.size() + (repair.repaired() ? 1 : 0), after.size());
        }
        assertFalse(RecordingReader.repair(file).repaired());
    }
}
