package io.heldmark.record;

import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.SeekableByteChannel;
import java.nio.charset.StandardCharsets;
import org.jspecify.annotations.Nullable;

/**
 * Looks at the end of a recording without reading all of it: every block repeats its length behind its body, so the last
 * one can be found from the end.
 */
final class RecordingTail {
    /** Longest last event that is looked at; ours have less than 200 bytes. */
    private static final int MAX_EVENT_BYTES = 4_096;

    /**
     * The event with which a recording ended or was repaired.
     *
     * @param event the JSON object.
     * @param timeNs its station time.
     */
    record End(ObjectNode event, long timeNs) {
        /** Returns whether the recorder ended the file itself and had lost nothing. */
        boolean complete() {
            return event.path("event").asText("").equals(StationEvents.END)
                    && event.path("complete").asBoolean(false);
        }
    }

    private RecordingTail() {}

    /** Returns the end; null where the file has no proper one. */
    static @Nullable End find(SeekableByteChannel channel, RecordingBlocks blocks)
            throws IOException, RecordingException {
        long size = channel.size();
        int smallest = Pcapng.BLOCK_OVERHEAD_BYTES + Pcapng.PACKET_BODY_BYTES;
        if (size < smallest) {
            return null;
        }
        int length = read(channel, size - Integer.BYTES, Integer.BYTES, blocks).getInt(0);
        if (length < smallest || length > MAX_EVENT_BYTES || length > size) {
            return null;
        }
        ByteBuffer block = read(channel, size - length, length, blocks);
        int captured = block.getInt(20);
        boolean event = block.getInt(0) == Pcapng.ENHANCED_PACKET
                && block.getInt(4) == length
                && block.getInt(8) == blocks.stationInterface()
                && captured >= 0
                && captured <= length - smallest;
        if (!event) {
            return null;
        }
        int data = Pcapng.PACKET_BODY_BYTES + 8;
        ObjectNode json = RecordingFacts.object(
                StandardCharsets.UTF_8.decode(block.slice(data, captured)).toString());
        String name = json == null ? "" : json.path("event").asText("");
        boolean ends = name.equals(StationEvents.END) || name.equals(StationEvents.REPAIRED);
        return json == null || !ends ? null : new End(json, blocks.stationEventNs(block, 8, size - length));
    }

    private static ByteBuffer read(SeekableByteChannel channel, long position, int bytes, RecordingBlocks blocks)
            throws IOException {
        ByteBuffer into = ByteBuffer.allocate(bytes).order(blocks.byteOrder());
        channel.position(position);
        BlockSource.fill(channel, into);
        return into.flip().limit(bytes);
    }
}
