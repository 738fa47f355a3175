package io.heldmark.record;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import org.jspecify.annotations.Nullable;

/**
 * Gives a recording that a crash left without an end a proper one.
 *
 * <p><b>Method.</b> Under the recorder's own lock: find the last whole block, write a {@code repaired} event right behind
 * it and over what is left of the torn one, followed by a block head of zeros, sync, cut the file behind the event, sync.
 * A crash in between leaves either a torn block again or a whole event and an impossible block behind it; both are mended
 * by the next repair, and no whole block is ever touched.
 *
 * <p><b>What is not repaired.</b> A file in use; one that another program rewrote; and one with more than
 * {@value #MAX_TAIL_BYTES} bytes behind the last whole block: a crash does not leave that much, so the file is damaged in
 * the middle and cutting would destroy what may be good data.
 */
final class RecordingRepair {
    /** Most that is cut off: half a second of any set-up and more. */
    static final int MAX_TAIL_BYTES = 1 << 20;

    /** Zeros behind the event until the file is cut: no block has length 0, so reading ends there in any case. */
    private static final int STOP_BYTES = Pcapng.BLOCK_OVERHEAD_BYTES;

    private final Path file;
    private final FileChannel channel;

    /**
     * What came of it.
     *
     * @param repair what was done; null where nothing could be done.
     * @param sentence for people; empty where the file had ended properly.
     */
    record Outcome(@Nullable Repair repair, String sentence) {}

    private RecordingRepair(Path file, FileChannel channel) {
        this.file = file;
        this.channel = channel;
    }

    /** Repairs the file if it needs it and if that is possible. */
    static Outcome repair(Path file) throws RecordingException {
        try (FileChannel channel = FileChannel.open(file, StandardOpenOption.READ, StandardOpenOption.WRITE)) {
            FileLock lock = ChannelFile.tryLock(channel);
            if (lock == null) {
                return untouched(
                        file + " has no end yet: it is still being recorded, or its disk cannot be locked; it is"
                                + " read as far as it goes");
            }
            return new RecordingRepair(file, channel).repairLocked();
        } catch (IOException e) {
            return untouched(
                    file + " was not ended properly and cannot be repaired (" + e + "); it is read as far as it goes");
        }
    }

    private static Outcome untouched(String sentence) {
        return new Outcome(null, sentence);
    }

    private Outcome repairLocked() throws IOException, RecordingException {
        RecordingBlocks blocks = RecordingBlocks.open(channel, file);
        if (RecordingTail.find(channel, blocks) != null) {
            return new Outcome(new Repair(file, false, 0), "");
        }
        long sizeBytes = channel.size();
        blocks.skipToEnd();
        long removedBytes = sizeBytes - blocks.wholeBytes();
        boolean crashed = blocks.torn() || blocks.fault().isEmpty();
        if (!crashed || removedBytes > MAX_TAIL_BYTES || !blocks.canBeAppended()) {
            return untouched(file + " was not ended properly and is not changed: reading ends at byte "
                    + blocks.wholeBytes() + " of " + sizeBytes + (crashed ? "" : ", where " + blocks.fault()));
        }
        append(blocks, removedBytes);
        return new Outcome(
                new Repair(file, true, removedBytes),
                file + " was not ended properly (a crash or a power cut): it was repaired, " + removedBytes
                        + " bytes of a half-written block were removed");
    }

    private void append(RecordingBlocks blocks, long removedBytes) throws IOException {
        ByteBuffer event = repairedEvent(blocks, removedBytes);
        long end = blocks.wholeBytes() + event.remaining() - STOP_BYTES;
        long at = blocks.wholeBytes();
        while (event.hasRemaining()) {
            at += channel.write(event, at);
        }
        channel.force(true);
        channel.truncate(end);
        channel.force(true);
    }

    /** Makes the event's block and the zeros behind it; its time is that of the last packet, for nothing came after. */
    static ByteBuffer repairedEvent(RecordingBlocks blocks, long removedBytes) {
        byte[] json = StationEvents.repaired(removedBytes).getBytes(StandardCharsets.UTF_8);
        ByteBuffer out = ByteBuffer.allocate(BlockEncoder.packetBytes(json.length, 0) + STOP_BYTES)
                .order(ByteOrder.LITTLE_ENDIAN);
        long wallNs = blocks.header().wallAnchorNs() + blocks.lastTimeNs();
        BlockEncoder.putPacket(out, blocks.stationInterface(), wallNs, 0, json, 0, json.length);
        return out.position(0);
    }
}
