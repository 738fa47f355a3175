package io.heldmark.record;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.record.RecordedItem.Kind;
import java.io.ByteArrayOutputStream;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * The reader takes what the pcapng draft allows and refuses what is no recording. Blocks are put together here by hand, from
 * the field tables of draft-ietf-opsawg-pcapng, apart from the recorder's own encoder.
 */
class RecordingToleranceTest {
    private static final String SECTION =
            "{\"schema\":\"heldmark.recording/1\",\"wallAnchorNs\":5000000000,\"stationVersion\":\"9\",\"settings\":{},"
                    + "\"fromTheFuture\":[1]}";
    private static final String LINK =
            "{\"interface\":\"link\",\"name\":\"serial:x\",\"binding\":\"BYTES\",\"facts\":{}}";

    @TempDir
    Path folder;

    /** Puts blocks together in one byte order. */
    private static final class Blocks {
        private final ByteArrayOutputStream out = new ByteArrayOutputStream();
        private final ByteOrder order;

        Blocks(ByteOrder order) {
            this.order = order;
        }

        Blocks block(int type, byte[]... parts) {
            int total = 12;
            for (byte[] part : parts) {
                total += part.length;
            }
            out.writeBytes(ints(type, total));
            for (byte[] part : parts) {
                out.writeBytes(part);
            }
            out.writeBytes(ints(total));
            return this;
        }

        Blocks section(String comment) {
            byte[] magic = ints(0x1A2B3C4D);
            byte[] version = ByteBuffer.allocate(12)
                    .order(order)
                    .putShort((short) 1)
                    .putLong(4, -1)
                    .array();
            return block(0x0A0D0D0A, magic, version, option(1, comment), option(0, ""));
        }

        Blocks network(int linkType, byte[]... options) {
            byte[] head = ByteBuffer.allocate(8)
                    .order(order)
                    .putShort((short) linkType)
                    .array();
            byte[] all = new byte[0];
            for (byte[] option : options) {
                all = join(all, option);
            }
            return block(1, head, all);
        }

        Blocks packet(int interfaceId, long units, byte[] payload, byte[]... options) {
            byte[] head = ints(interfaceId, (int) (units >>> 32), (int) units, payload.length, payload.length);
            byte[] all = new byte[0];
            for (byte[] option : options) {
                all = join(all, option);
            }
            return block(6, head, padded(payload), all);
        }

        byte[] option(int code, String text) {
            return option(code, text.getBytes(StandardCharsets.UTF_8));
        }

        byte[] option(int code, byte[] value) {
            byte[] head = ByteBuffer.allocate(4)
                    .order(order)
                    .putShort((short) code)
                    .putShort((short) value.length)
                    .array();
            return join(head, padded(value));
        }

        byte[] ints(int... values) {
            ByteBuffer bytes = ByteBuffer.allocate(4 * values.length).order(order);
            for (int value : values) {
                bytes.putInt(value);
            }
            return bytes.array();
        }

        byte[] bytes() {
            return out.toByteArray();
        }

        private static byte[] padded(byte[] bytes) {
            return java.util.Arrays.copyOf(bytes, (bytes.length + 3) / 4 * 4);
        }

        private static byte[] join(byte[] a, byte[] b) {
            byte[] both = java.util.Arrays.copyOf(a, a.length + b.length);
            System.arraycopy(b, 0, both, a.length, b.length);
            return both;
        }
    }

    private Path file(Blocks blocks) throws Exception {
        return Files.write(folder.resolve("made.pcapng"), blocks.bytes());
    }

    private static byte[] text(String text) {
        return text.getBytes(StandardCharsets.UTF_8);
    }

    private static Blocks start(ByteOrder order) {
        Blocks blocks = new Blocks(order);
        return blocks.section(SECTION)
                .network(148, blocks.option(9, new byte[] {9}))
                .network(147, blocks.option(9, new byte[] {9}), blocks.option(1, LINK));
    }

    @Test
    void shouldReadBothByteOrders() throws Exception {
        for (ByteOrder order : List.of(ByteOrder.LITTLE_ENDIAN, ByteOrder.BIG_ENDIAN)) {
            Blocks blocks = start(order);
            blocks.packet(1, 5_000_000_007L, new byte[] {1, 2, 3, 4, 5});
            blocks.packet(1, 5_000_000_008L, new byte[] {6}, blocks.option(2, blocks.ints(2)));
            blocks.packet(0, 5_000_000_009L, text("{\"event\":\"clock\"}"));
            try (RecordingReader reader = RecordingReader.openUnchanged(file(blocks))) {
                List<Recordings.Packet> read = Recordings.readAll(reader);
                assertEquals(
                        List.of(
                                Recordings.Packet.of(Kind.CHUNK, 0, 7, new byte[] {1, 2, 3, 4, 5}),
                                Recordings.Packet.of(Kind.SENT, 0, 8, new byte[] {6}),
                                Recordings.Packet.of(Kind.EVENT, -1, 9, text("{\"event\":\"clock\"}"))),
                        read,
                        order.toString());
                assertEquals("9", reader.header().stationVersion());
                assertEquals(List.of(), reader.notes());
            }
        }
    }

    @Test
    void shouldReadABigEndianRecordingThatHasNoEndWithoutAppendingToIt() throws Exception {
        Path file = file(start(ByteOrder.BIG_ENDIAN).packet(1, 5_000_000_007L, new byte[] {1}));
        long size = Files.size(file);
        try (RecordingReader reader = RecordingReader.open(file)) {
            assertEquals(1, Recordings.readAll(reader).size());
            assertTrue(
                    reader.notes().get(0).contains("not changed"),
                    reader.notes().get(0));
        }
        assertEquals(size, Files.size(file));
    }

    @Test
    void shouldPassOverUnknownBlocksOptionsAndInterfaces() throws Exception {
        Blocks blocks = start(ByteOrder.LITTLE_ENDIAN);
        blocks.block(4, blocks.ints(0)); // Name resolution.
        blocks.block(0x00000BAD, new byte[2_000_000]); // A custom block longer than the reader's buffer.
        blocks.network(1); // Ethernet.
        blocks.packet(2, 77, new byte[] {9});
        blocks.packet(1, 5_000_000_001L, new byte[] {1}, blocks.option(999, "what?"), blocks.option(2, blocks.ints(1)));
        blocks.block(5, blocks.ints(0, 0, 0)); // Interface statistics.
        blocks.network(147, blocks.option(9, new byte[] {9}), blocks.option(1, LINK));
        blocks.packet(3, 5_000_000_002L, new byte[] {2});
        try (RecordingReader reader = RecordingReader.openUnchanged(file(blocks))) {
            assertEquals(
                    List.of(
                            Recordings.Packet.of(Kind.CHUNK, 0, 1, new byte[] {1}),
                            Recordings.Packet.of(Kind.CHUNK, 1, 2, new byte[] {2})),
                    Recordings.readAll(reader));
            assertEquals(List.of(), reader.notes());
        }
    }

    @Test
    void shouldReadEveryTimeResolution() throws Exception {
        // 5.25 s in every unit; the anchor is at 5 s.
        assertEquals(250_000_000L, timeNs(5_250_000L));
        assertEquals(250_000_000L, timeNs(525L, new byte[] {2}));
        assertEquals(250_000_000L, timeNs(5_250_000_000_000L, new byte[] {12}));
        assertEquals(250_000_000L, timeNs(21L, new byte[] {(byte) 0x82}));
        assertEquals(250_000_000L, timeNs((5L << 32) + (1L << 30), new byte[] {(byte) 0xA0}));
        assertEquals(250_000_000L, timeNs((5L << 50) + (1L << 48), new byte[] {(byte) 0xB2}));
    }

    private long timeNs(long units, byte[]... resolution) throws Exception {
        Blocks blocks = new Blocks(ByteOrder.LITTLE_ENDIAN);
        blocks.section(SECTION).network(148);
        byte[] tsresol = resolution.length == 0 ? new byte[0] : blocks.option(9, resolution[0]);
        blocks.network(147, tsresol, blocks.option(1, LINK)).packet(1, units, new byte[] {1});
        try (RecordingReader reader = RecordingReader.openUnchanged(file(blocks))) {
            RecordedItem item = new RecordedItem();
            assertTrue(reader.next(item));
            return item.timeNs();
        }
    }

    @Test
    void shouldAddTheTimeOffset() throws Exception {
        Blocks blocks = new Blocks(ByteOrder.LITTLE_ENDIAN);
        byte[] offset =
                ByteBuffer.allocate(8).order(ByteOrder.LITTLE_ENDIAN).putLong(6).array();
        blocks.section(SECTION).network(148);
        blocks.network(147, blocks.option(14, offset), blocks.option(1, LINK)).packet(1, 3, new byte[] {1});
        try (RecordingReader reader = RecordingReader.openUnchanged(file(blocks))) {
            RecordedItem item = new RecordedItem();
            assertTrue(reader.next(item));
            assertEquals(1_000_003_000L, item.timeNs());
        }
    }

    @Test
    void shouldSayThatAPacketWasShortened() throws Exception {
        Blocks blocks = start(ByteOrder.LITTLE_ENDIAN);
        blocks.block(6, blocks.ints(1, 1, 705_032_705, 4, 40), new byte[4]);
        try (RecordingReader reader = RecordingReader.openUnchanged(file(blocks))) {
            assertEquals(1, Recordings.readAll(reader).size());
            assertTrue(reader.notes().get(0).contains("1 packets that another program has shortened"));
        }
    }

    @Test
    void shouldStopAtAPacketThatContradictsItself() throws Exception {
        Blocks blocks = start(ByteOrder.LITTLE_ENDIAN).packet(1, 5_000_000_001L, new byte[] {1});
        int good = blocks.bytes().length;
        blocks.block(6, blocks.ints(1, 0, 0, 400, 400), new byte[4]);
        Path file = file(blocks);
        try (RecordingReader reader = RecordingReader.open(file)) {
            assertEquals(1, Recordings.readAll(reader).size());
            assertTrue(
                    reader.notes().get(1).contains("to byte " + good + " only"),
                    reader.notes().get(1));
        }
        assertEquals(blocks.bytes().length, Files.size(file), "not a crash, so nothing is cut off");
    }

    @Test
    void shouldRefuseATimeBeforeTheAnchor() throws Exception {
        Path file = file(start(ByteOrder.LITTLE_ENDIAN).packet(1, 4_999_999_999L, new byte[] {1}));
        try (RecordingReader reader = RecordingReader.openUnchanged(file)) {
            assertRefusal("before the start of the station's time", () -> reader.next(new RecordedItem()));
        }
    }

    @Test
    void shouldRefuseInOneLineWhatIsNoRecording() throws Exception {
        Path there = folder.resolve("no.pcapng");
        assertRefusal("does not exist", () -> RecordingReader.open(there));
        assertRefusal("cannot be read", () -> RecordingReader.open(folder));
        Files.write(there, new byte[0]);
        assertRefusal("is empty", () -> RecordingReader.open(there));
        Files.writeString(there, "time_s,left\n0.0,12.5\n0.1,13.5\n");
        assertRefusal("does not begin with a pcapng section header", () -> RecordingReader.open(there));
        Files.write(there, new byte[] {(byte) 0xD4, (byte) 0xC3, (byte) 0xB2, (byte) 0xA1, 2, 0, 4, 0, 0, 0, 0, 0});
        assertRefusal("does not begin with a pcapng section header", () -> RecordingReader.open(there));
        Blocks foreign = new Blocks(ByteOrder.LITTLE_ENDIAN);
        Files.write(there, foreign.section("captured at home").network(1).bytes());
        assertRefusal("pcapng file of another program", () -> RecordingReader.open(there));
        Blocks newer = new Blocks(ByteOrder.LITTLE_ENDIAN);
        Files.write(
                there, newer.section("{\"schema\":\"heldmark.recording/2\"}").bytes());
        assertRefusal("has the format heldmark.recording/2", () -> RecordingReader.open(there));
        Blocks bad = new Blocks(ByteOrder.LITTLE_ENDIAN);
        Files.write(
                there,
                bad.section("{\"schema\":\"heldmark.recording/1\"}")
                        .network(148)
                        .bytes());
        assertRefusal("lacks wallAnchorNs", () -> RecordingReader.open(there));
        Blocks silent = new Blocks(ByteOrder.LITTLE_ENDIAN);
        Files.write(there, silent.section(SECTION).network(148).network(147).bytes());
        assertRefusal("does not name its link", () -> RecordingReader.open(there));
        assertRefusal("does not name its link", () -> RecordingReader.repair(there));
    }

    private void assertRefusal(String part, org.junit.jupiter.api.function.Executable reading) {
        String message = assertThrows(RecordingException.class, reading).getMessage();
        assertTrue(message.contains(part), message);
        assertTrue(message.startsWith(folder.toString()), message);
        assertFalse(message.contains("\n"), message);
    }
}
