package io.heldmark.record;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.code_intelligence.jazzer.junit.FuzzTest;
import java.io.IOException;

/**
 * Whatever the bytes, the reader refuses them in one line or reads packets that lie inside them.
 *
 * <p>Plain runs feed the corpus. To fuzz: {@code JAZZER_FUZZ=1 mvn -pl daemon/core -am test
 * -Dtest=RecordingBlocksFuzzTest -Dsurefire.failIfNoSpecifiedTests=false}.
 */
class RecordingBlocksFuzzTest {
    private static final int SMALLEST_PACKET_BYTES = Pcapng.BLOCK_OVERHEAD_BYTES + Pcapng.PACKET_BODY_BYTES;

    @FuzzTest(maxDuration = "2m")
    void shouldReadAnythingWithoutAFault(byte[] file) throws IOException {
        try {
            readThrough(file);
        } catch (RecordingException e) {
            assertFalse(e.getMessage().contains("\n"), e.getMessage());
        }
    }

    private static void readThrough(byte[] file) throws IOException, RecordingException {
        BytesChannel channel = new BytesChannel(file);
        RecordingBlocks blocks = RecordingBlocks.open(channel, java.nio.file.Path.of("fuzz.pcapng"));
        RecordingTail.End end = RecordingTail.find(channel, blocks);
        assertTrue(end == null || end.timeNs() >= 0);
        RecordedItem item = new RecordedItem();
        long packets = 0;
        long wholeBytes = blocks.wholeBytes();
        while (blocks.next(item)) {
            packets++;
            assertTrue(item.timeNs() >= 0);
            assertTrue(item.length() >= 0 && item.offset() + item.length() <= item.bytes().length);
            assertEquals(item.kind() == RecordedItem.Kind.EVENT, item.link() == -1);
            assertTrue(item.link() < blocks.links().size());
            assertTrue(blocks.wholeBytes() >= wholeBytes + SMALLEST_PACKET_BYTES + item.length());
            wholeBytes = blocks.wholeBytes();
        }
        assertTrue(wholeBytes <= file.length && packets <= file.length / SMALLEST_PACKET_BYTES);
        assertFalse(blocks.next(item), "the end stays the end");
        assertEquals(blocks.fault().isEmpty(), blocks.wholeBytes() == file.length, blocks.fault());
    }
}
