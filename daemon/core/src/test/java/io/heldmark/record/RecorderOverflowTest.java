package io.heldmark.record;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.record.Recordings.Packet;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A disk that does not keep up: nothing blocks, everything lost is counted and stands in the file where it is missing. */
class RecorderOverflowTest {
    private static final byte[] BIG = new byte[100_000];

    @TempDir
    Path folder;

    private Path file;
    private RecorderBench bench;

    @BeforeEach
    void open() {
        file = folder.resolve("overflow.pcapng");
        bench = new RecorderBench(file, Long.MAX_VALUE, Recordings.LEFT, Recordings.RIGHT);
        assertTrue(bench.worker.open());
    }

    /** Hands chunks of link 0 over until one is refused; returns how many were taken. */
    private int fill() {
        int taken = 0;
        while (bench.chunk(0, taken, BIG)) {
            taken++;
        }
        return taken;
    }

    private List<Packet> readAll() throws RecordingException {
        try (RecordingReader reader = RecordingReader.open(file)) {
            assertFalse(reader.complete());
            return Recordings.readAll(reader);
        }
    }

    @Test
    void shouldNoteWhatIsMissingOfEachLinkWhereItIsMissing() throws Exception {
        int taken = fill();
        assertTrue(taken * (long) BIG.length > 16 << 20 >> 1, "taken=" + taken);
        assertFalse(bench.chunk(1, 1_000, new byte[7]));
        assertFalse(bench.chunk(1, 1_001, new byte[8]));
        assertFalse(bench.queue.event(1_002, "{\"event\":\"mark\",\"text\":\"lost\"}"));
        bench.worker.cycle();
        assertTrue(bench.chunk(1, 2_000, new byte[9]), "half of the ring is free again");
        bench.end();

        List<Packet> read = readAll();
        assertEquals(taken + 5, read.size());
        assertEquals(
                "{\"event\":\"gap\",\"link\":0,\"lostChunks\":1,\"lostBytes\":100000}",
                read.get(taken).text());
        assertEquals(
                "{\"event\":\"gap\",\"link\":1,\"lostChunks\":2,\"lostBytes\":15}",
                read.get(taken + 1).text());
        assertEquals(1_000, read.get(taken + 1).timeNs(), "the time of the first chunk that is missing");
        assertEquals("{\"event\":\"gap\",\"lostEvents\":1}", read.get(taken + 2).text());
        assertEquals(2_000, read.get(taken + 3).timeNs());
        assertEquals(
                "{\"event\":\"end\",\"complete\":false,\"lostChunks\":3,\"lostBytes\":100015,\"lostEvents\":1}",
                read.get(taken + 4).text());
    }

    @Test
    void shouldGoOnLosingUntilHalfOfTheRingIsFree() {
        int taken = fill();
        ByteRing.Item item = new ByteRing.Item();
        for (int i = 0; i < taken / 4; i++) {
            assertTrue(bench.queue.ring().read(item, bench.queue.ring().end()));
        }
        assertFalse(bench.chunk(0, 1, BIG), "room for one, but one long gap is better than many short ones");
        bench.worker.cycle();
        assertTrue(bench.chunk(0, 2, BIG));
    }

    @Test
    void shouldNoteAnOverflowAtTheVeryEnd() throws Exception {
        int taken = fill();
        assertFalse(bench.chunk(1, 500, new byte[3]));
        bench.end();
        List<Packet> read = readAll();
        assertEquals(taken + 3, read.size());
        assertEquals(
                "{\"event\":\"gap\",\"link\":1,\"lostChunks\":1,\"lostBytes\":3}",
                read.get(taken + 1).text());
    }

    @Test
    void shouldKeepALinkThatWasAddedDuringAnOverflow() throws Exception {
        int taken = fill();
        assertEquals(2, bench.queue.addLink(Recordings.RIGHT));
        assertFalse(bench.chunk(2, 600, new byte[4]));
        bench.worker.cycle();
        assertTrue(bench.chunk(2, 700, new byte[5]));
        bench.end();
        try (RecordingReader reader = RecordingReader.open(file)) {
            List<Packet> read = Recordings.readAll(reader);
            assertEquals(3, reader.links().size());
            assertEquals(
                    "{\"event\":\"gap\",\"link\":2,\"lostChunks\":1,\"lostBytes\":4}",
                    read.get(taken + 1).text());
            assertEquals(2, read.get(taken + 2).link());
            assertEquals(5, read.get(taken + 2).payload().size());
        }
    }

    @Test
    void shouldWriteALinkThatWasAddedDuringAnOverflowAtTheVeryEnd() throws Exception {
        fill();
        bench.queue.addLink(Recordings.RIGHT);
        bench.chunk(2, 600, new byte[4]);
        bench.end();
        try (RecordingReader reader = RecordingReader.open(file)) {
            Recordings.readAll(reader);
            assertEquals(3, reader.links().size());
            assertEquals(List.of(), reader.notes());
        }
    }

    @Test
    void shouldCountAChunkThatIsTooLongForAPacketAsLost() throws Exception {
        assertFalse(bench.chunk(0, 1, new byte[Pcapng.MAX_PACKET_BYTES + 1]));
        assertTrue(bench.chunk(0, 2, new byte[1]));
        bench.end();
        List<Packet> read = readAll();
        assertEquals(
                "{\"event\":\"gap\",\"link\":0,\"lostChunks\":1,\"lostBytes\":262145}",
                read.get(0).text());
    }

    @Test
    void shouldTellTheListenerOnceThatItemsAreLost() {
        fill();
        bench.worker.cycle();
        fill();
        bench.worker.cycle();
        assertEquals(2, bench.told.size());
        RecorderStatus loss = bench.told.get(1);
        assertEquals(RecorderStatus.State.ON, loss.state());
        assertFalse(loss.complete());
        assertEquals(1, loss.lostChunks());
        assertEquals(BIG.length, loss.lostBytes());
        assertEquals(2, bench.status().lostChunks());
    }
}
