package io.heldmark.record;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.ObjectMapper;
import io.heldmark.record.Recordings.Packet;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What goes into a recording comes out of it. */
class RecordingRoundTripTest {
    @TempDir
    Path folder;

    @Test
    void shouldGiveBackEveryPacketInOrderForRandomSequences() throws Exception {
        for (int seed = 0; seed < 40; seed++) {
            List<Packet> items = Recordings.randomItems(new Random(seed), 300);
            Path file = folder.resolve("random-" + seed + ".pcapng");
            Recordings.write(file, items, true);
            try (RecordingReader reader = RecordingReader.open(file)) {
                List<Packet> read = Recordings.readAll(reader);
                assertEquals(items, read.subList(0, read.size() - 1), "seed " + seed);
                assertTrue(reader.complete());
                assertEquals(List.of(), reader.notes());
            }
        }
    }

    @Test
    void shouldGiveBackTheHeader() throws Exception {
        Path file = folder.resolve("header.pcapng");
        Recordings.write(file, List.of(), true);
        try (RecordingReader reader = RecordingReader.open(file)) {
            RecordingHeader header = reader.header();
            assertEquals(ManualClock.WALL_ANCHOR_NS, header.wallAnchorNs());
            assertEquals("0.1.0", header.stationVersion());
            assertEquals(Recordings.SETTINGS, header.settingsJson(), "with every digit as it was written");
            assertEquals(
                    List.of("AUTO", "TEXT"),
                    header.links().stream().map(LinkHeader::binding).toList());
            assertEquals(Recordings.LEFT.name(), header.links().get(0).name());
            ObjectMapper mapper = new ObjectMapper();
            assertEquals(
                    mapper.readTree(Recordings.LEFT.factsJson()),
                    mapper.readTree(header.links().get(0).factsJson()));
        }
    }

    @Test
    void shouldTellALinkThatComesLater() throws Exception {
        Path file = folder.resolve("later.pcapng");
        try (RecordingWriter writer = RecordingWriter.create(file, Recordings.header(Recordings.LEFT))) {
            writer.chunk(0, 10, new byte[] {1}, 0, 1);
            assertEquals(1, writer.addLink(Recordings.RIGHT));
            writer.chunk(1, 20, new byte[] {2}, 0, 1);
            writer.end(30, 0, 0, 0);
        }
        try (RecordingReader reader = RecordingReader.open(file)) {
            RecordedItem item = new RecordedItem();
            assertTrue(reader.next(item));
            assertEquals(1, reader.header().links().size());
            assertTrue(reader.next(item));
            assertEquals(1, item.link());
            assertEquals(Recordings.RIGHT, reader.links().get(1));
            assertEquals(1, reader.header().links().size(), "the header is what was known before the first packet");
        }
    }

    @Test
    void shouldNeverOverwriteAFile() throws Exception {
        Path file = Files.writeString(folder.resolve("there.pcapng"), "precious");
        assertThrows(FileAlreadyExistsException.class, () -> RecordingWriter.create(file, Recordings.header()));
        assertEquals("precious", Files.readString(file));
    }

    @Test
    void shouldLetOnlyTheOwnerReadTheFile() throws Exception {
        Path file = folder.resolve("private.pcapng");
        Recordings.write(file, List.of(), true);
        assertEquals("rw-------", PosixFilePermissions.toString(Files.getPosixFilePermissions(file)));
    }

    @Test
    void shouldRefuseALinkThatWasNotAdded() throws Exception {
        try (RecordingWriter writer =
                RecordingWriter.create(folder.resolve("link.pcapng"), Recordings.header(Recordings.LEFT))) {
            assertThrows(IllegalArgumentException.class, () -> writer.chunk(1, 0, new byte[1], 0, 1));
            assertThrows(
                    IllegalArgumentException.class,
                    () -> writer.chunk(0, 0, new byte[Pcapng.MAX_PACKET_BYTES + 1], 0, Pcapng.MAX_PACKET_BYTES + 1));
        }
    }

    @Test
    void shouldTakeTheLongestPacket() throws Exception {
        byte[] longest = new byte[Pcapng.MAX_PACKET_BYTES];
        new Random(5).nextBytes(longest);
        Packet packet = Packet.of(RecordedItem.Kind.CHUNK, 1, 5, longest);
        Path file = folder.resolve("longest.pcapng");
        Recordings.write(file, List.of(packet, packet, packet), true);
        try (RecordingReader reader = RecordingReader.open(file)) {
            assertEquals(
                    List.of(packet, packet, packet), Recordings.readAll(reader).subList(0, 3));
        }
    }

    /** Bytes worked out by hand from the field tables of draft-ietf-opsawg-pcapng, sections 4.1 to 4.3. */
    @Test
    void shouldWriteTheFieldsWhereTheDraftPutsThem() throws Exception {
        Path file = folder.resolve("bytes.pcapng");
        try (RecordingWriter writer = RecordingWriter.create(file, Recordings.header(Recordings.RIGHT))) {
            writer.chunk(0, 7, new byte[] {0x11, 0x22, 0x33, 0x44, 0x55}, 0, 5);
        }
        ByteBuffer bytes = ByteBuffer.wrap(Files.readAllBytes(file)).order(ByteOrder.LITTLE_ENDIAN);
        assertEquals(0x0A0D0D0A, bytes.getInt(0));
        assertEquals(0x1A2B3C4D, bytes.getInt(8));
        assertEquals(1, bytes.getShort(12));
        assertEquals(0, bytes.getShort(14));
        assertEquals(-1, bytes.getLong(16));
        int station = bytes.getInt(4);
        assertEquals(1, bytes.getInt(station));
        assertEquals(148, bytes.getShort(station + 8));
        int link = station + bytes.getInt(station + 4);
        assertEquals(147, bytes.getShort(link + 8));
        int packet = link + bytes.getInt(link + 4);
        assertEquals(bytes.capacity(), packet + 52);
        long wallNs = ManualClock.WALL_ANCHOR_NS + 7;
        int[] expected = {6, 52, 1, (int) (wallNs >>> 32), (int) wallNs, 5, 5, 0x44332211, 0x55, 0x00040002, 1, 0, 52};
        for (int i = 0; i < expected.length; i++) {
            assertEquals(expected[i], bytes.getInt(packet + 4 * i), "word " + i);
        }
    }

    @Test
    void shouldRefuseHeadersThatDoNotFitOrAreNoJson() {
        assertThrows(IllegalArgumentException.class, () -> new LinkHeader("a", "AUTO", "[1]"));
        assertThrows(IllegalArgumentException.class, () -> new LinkHeader("a", "AUTO", "{} {}"));
        assertThrows(IllegalArgumentException.class, () -> new LinkHeader("a", "AUTO", "{\"u\":1E99999999999}"));
        assertThrows(IllegalArgumentException.class, () -> new LinkHeader("", "AUTO", "{}"));
        String tooLong = "{\"a\":\"" + "x".repeat(60_000) + "\"}";
        assertThrows(IllegalArgumentException.class, () -> new RecordingHeader(0, "1", List.of(), tooLong));
        assertThrows(IllegalArgumentException.class, () -> new RecordingHeader(-1, "1", List.of(), "{}"));
    }

    @Test
    void shouldSumUpWithoutReadingEverything() throws Exception {
        Path file = folder.resolve("summary.pcapng");
        List<Packet> items = Recordings.randomItems(new Random(3), 50);
        Recordings.write(file, items, true);
        RecordingSummary summary = RecordingSummary.of(file);
        long lastNs = items.stream().mapToLong(Packet::timeNs).max().orElseThrow();
        assertEquals(items.get(0).timeNs(), summary.firstNs());
        assertEquals(lastNs - summary.firstNs(), summary.durationNs());
        assertEquals(Files.size(file), summary.bytes());
        assertTrue(summary.complete());
        assertFalse(summary.header().links().isEmpty());
        assertEquals(ManualClock.WALL_ANCHOR_NS + summary.firstNs(), summary.startedAtWallNs());
    }

    @Test
    void shouldSayThatARecordingWithLossesIsNotComplete() throws IOException, RecordingException {
        Path file = folder.resolve("lossy.pcapng");
        try (RecordingWriter writer = RecordingWriter.create(file, Recordings.header())) {
            writer.end(5, 1, 10, 0);
        }
        assertFalse(RecordingSummary.of(file).complete());
    }
}
