package io.heldmark.record;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.record.RecordedItem.Kind;
import io.heldmark.record.Recordings.Packet;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.channels.FileChannel;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A recording that was cut anywhere opens, and loses nothing but the block that was cut. */
class RecordingRepairTest {
    @TempDir
    Path folder;

    private List<Packet> items;
    private byte[] whole;
    private int headerBytes;

    @BeforeEach
    void writeARecordingWithoutAnEnd() throws IOException {
        items = Recordings.randomItems(new Random(11), 12).stream()
                .filter(item -> item.payload().size() < 60)
                .toList();
        Path file = folder.resolve("whole.pcapng");
        Recordings.write(file, items, false);
        whole = Files.readAllBytes(file);
        Path empty = folder.resolve("empty.pcapng");
        Recordings.write(empty, List.of(), false);
        headerBytes = (int) Files.size(empty);
    }

    @Test
    void shouldLoseOnlyTheLastBlockWhereverTheFileIsCut() throws Exception {
        List<Integer> ends = blockEnds(whole);
        Path file = folder.resolve("cut.pcapng");
        for (int cut = headerBytes; cut < whole.length; cut++) {
            Files.write(file, Arrays.copyOf(whole, cut));
            int bytes = cut;
            int wholeBytes = ends.stream().filter(end -> end <= bytes).reduce(0, Math::max);
            int packets = (int) ends.stream()
                    .filter(end -> end > headerBytes && end <= bytes)
                    .count();
            try (RecordingReader reader = RecordingReader.open(file)) {
                List<Packet> read = Recordings.readAll(reader);
                assertEquals(items.subList(0, packets), read.subList(0, read.size() - 1), "cut at " + cut);
                String removed = "{\"event\":\"repaired\",\"removedBytes\":" + (cut - wholeBytes) + "}";
                assertEquals(removed, read.get(read.size() - 1).text());
                assertFalse(reader.complete());
                assertEquals(1, reader.notes().size(), () -> String.valueOf(reader.notes()));
            }
            assertArrayEquals(Arrays.copyOf(whole, wholeBytes), Arrays.copyOf(Files.readAllBytes(file), wholeBytes));
            assertFalse(RecordingReader.repair(file).repaired(), "the second time there is nothing left to do");
        }
    }

    @Test
    void shouldRefuseInOneLineWhatWasCutInsideItsHeader() throws Exception {
        Path file = folder.resolve("cut.pcapng");
        int station = blockEnds(whole).get(1);
        for (int cut = 0; cut < station; cut++) {
            Files.write(file, Arrays.copyOf(whole, cut));
            RecordingException refusal = assertThrows(RecordingException.class, () -> RecordingReader.open(file));
            assertTrue(refusal.getMessage().contains(file.toString()), refusal.getMessage());
            assertFalse(refusal.getMessage().contains("\n"), refusal.getMessage());
            assertEquals(cut, Files.size(file), "a file that is refused is left alone");
        }
    }

    @Test
    void shouldTakeZerosBehindTheLastBlockForATornWrite() throws Exception {
        Path file = folder.resolve("zeros.pcapng");
        Files.write(file, Arrays.copyOf(whole, whole.length + 4_096)); // As after a power cut.
        Repair repair = RecordingReader.repair(file);
        assertTrue(repair.repaired());
        assertEquals(4_096, repair.removedBytes());
        try (RecordingReader reader = RecordingReader.open(file)) {
            assertEquals(items, Recordings.readAll(reader).subList(0, items.size()));
        }
    }

    @Test
    void shouldNotTouchARecordingWithAnEnd() throws Exception {
        Path file = folder.resolve("ended.pcapng");
        Recordings.write(file, items, true);
        byte[] before = Files.readAllBytes(file);
        assertFalse(RecordingReader.repair(file).repaired());
        RecordingReader.open(file).close();
        assertArrayEquals(before, Files.readAllBytes(file));
    }

    /** The steps of a repair: the event over the torn block, zeros, a sync, the cut. A crash may come between any bytes. */
    @Test
    void shouldSurviveACrashInTheMiddleOfARepair() throws Exception {
        int cut = whole.length - 3;
        int lastWhole = blockEnds(whole).get(blockEnds(whole).size() - 2);
        Path file = folder.resolve("repairing.pcapng");
        Files.write(file, Arrays.copyOf(whole, cut));
        byte[] event;
        try (FileChannel channel = FileChannel.open(file)) {
            RecordingBlocks blocks = RecordingBlocks.open(channel, file);
            blocks.skipToEnd();
            ByteBuffer bytes = RecordingRepair.repairedEvent(blocks, cut - lastWhole);
            event = new byte[bytes.remaining()];
            bytes.get(event);
        }
        for (int written = 0; written <= event.length; written++) {
            byte[] interrupted = Arrays.copyOf(whole, Math.max(cut, lastWhole + written));
            Arrays.fill(interrupted, cut, interrupted.length, (byte) 0);
            System.arraycopy(event, 0, interrupted, lastWhole, written);
            Files.write(file, interrupted);
            try (RecordingReader reader = RecordingReader.open(file)) {
                List<Packet> read = Recordings.readAll(reader);
                assertEquals(items.subList(0, items.size() - 1), read.subList(0, items.size() - 1));
                List<Packet> behind = read.subList(items.size() - 1, read.size());
                assertTrue(behind.stream().allMatch(RecordingRepairTest::isRepaired), "written " + written);
            }
            assertFalse(RecordingReader.repair(file).repaired());
        }
    }

    @Test
    void shouldLeaveAFileAloneThatIsDamagedInTheMiddle() throws Exception {
        List<Packet> many = new ArrayList<>();
        byte[] chunk = new byte[60_000];
        for (int i = 0; i < 40; i++) {
            many.add(Packet.of(Kind.CHUNK, 0, i, chunk));
        }
        Path file = folder.resolve("damaged.pcapng");
        Recordings.write(file, many, false);
        byte[] bytes = Files.readAllBytes(file);
        int third = blockEnds(bytes).get(6);
        bytes[third - 2] ^= 0x40; // The second length of a block.
        Files.write(file, bytes);
        assertThrows(RecordingException.class, () -> RecordingReader.repair(file));
        try (RecordingReader reader = RecordingReader.open(file)) {
            assertEquals(many.subList(0, 2), Recordings.readAll(reader));
            assertEquals(2, reader.notes().size(), () -> String.valueOf(reader.notes()));
            assertTrue(
                    reader.notes().get(1).contains("the two lengths of a block differ"),
                    reader.notes().get(1));
        }
        assertArrayEquals(bytes, Files.readAllBytes(file));
    }

    @Test
    void shouldNotCutOffASecondRecordingThatWasJoinedOn() throws Exception {
        Path file = folder.resolve("joined.pcapng");
        byte[] joined = Arrays.copyOf(whole, 2 * whole.length);
        System.arraycopy(whole, 0, joined, whole.length, whole.length);
        Files.write(file, joined);
        try (RecordingReader reader = RecordingReader.open(file)) {
            assertEquals(items, Recordings.readAll(reader));
            assertTrue(reader.notes().stream().anyMatch(note -> note.contains("second section")));
        }
        assertArrayEquals(joined, Files.readAllBytes(file));
    }

    @Test
    void shouldReadAFileThatIsStillBeingRecordedWithoutChangingIt() throws Exception {
        Path file = folder.resolve("live.pcapng");
        try (RecordingWriter writer = RecordingWriter.create(file, Recordings.header(Recordings.LEFT))) {
            writer.chunk(0, 1, new byte[] {1, 2}, 0, 2);
            writer.flush();
            long size = Files.size(file);
            try (RecordingReader reader = RecordingReader.open(file)) {
                assertEquals(1, Recordings.readAll(reader).size());
                assertTrue(
                        reader.notes().get(0).contains("still being recorded"),
                        reader.notes().get(0));
            }
            assertThrows(RecordingException.class, () -> RecordingReader.repair(file));
            assertEquals(size, Files.size(file));
            writer.end(2, 0, 0, 0);
        }
        assertTrue(RecordingSummary.of(file).complete());
    }

    @Test
    void shouldSumUpAFileWithoutAnEndAndLeaveItAsItIs() throws Exception {
        Path file = folder.resolve("whole.pcapng");
        RecordingSummary summary = RecordingSummary.of(file);
        long lastNs = items.stream().mapToLong(Packet::timeNs).max().orElseThrow();
        assertEquals(lastNs - items.get(0).timeNs(), summary.durationNs());
        assertFalse(summary.complete());
        assertArrayEquals(whole, Files.readAllBytes(file));
    }

    private static boolean isRepaired(Packet packet) {
        return packet.kind() == Kind.EVENT && packet.text().startsWith("{\"event\":\"repaired\"");
    }

    /** Finds where blocks end by their lengths alone. */
    private static List<Integer> blockEnds(byte[] file) {
        ByteBuffer bytes = ByteBuffer.wrap(file).order(ByteOrder.LITTLE_ENDIAN);
        List<Integer> ends = new ArrayList<>();
        int at = 0;
        while (at < file.length) {
            at += bytes.getInt(at + 4);
            ends.add(at);
        }
        return ends;
    }

    @Test
    void shouldReadWithoutRepairWhereTheFileCannotBeWritten() throws Exception {
        Path file = folder.resolve("readonly.pcapng");
        Files.write(file, Arrays.copyOf(whole, whole.length - 1));
        file.toFile().setWritable(false, false);
        org.junit.jupiter.api.Assumptions.assumeFalse(
                canOpenForWriting(file), "this user may write everything (root): a read-only file cannot be tried");
        try (RecordingReader reader = RecordingReader.open(file)) {
            assertEquals(items.subList(0, items.size() - 1), Recordings.readAll(reader));
            assertTrue(
                    reader.notes().get(0).contains("cannot be repaired"),
                    reader.notes().get(0));
        }
        assertEquals(whole.length - 1, Files.size(file));
    }

    private static boolean canOpenForWriting(Path file) {
        try (FileChannel channel = FileChannel.open(file, StandardOpenOption.WRITE)) {
            return channel.isOpen();
        } catch (IOException e) {
            return false;
        }
    }
}
