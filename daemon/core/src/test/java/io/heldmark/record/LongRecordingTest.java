package io.heldmark.record;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.sun.management.ThreadMXBean;
import java.lang.management.ManagementFactory;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.channels.NonWritableChannelException;
import java.nio.channels.SeekableByteChannel;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A recording far longer than memory, made up while it is read: a header, then one block again and again. */
class LongRecordingTest {
    @TempDir
    Path folder;

    /** Gives the header and then the block as often as asked, without holding it. */
    private static final class RepeatingChannel implements SeekableByteChannel {
        private final byte[] header;
        private final byte[] block;
        private final long size;
        private long position;

        RepeatingChannel(byte[] header, byte[] block, long blocks) {
            this.header = header;
            this.block = block;
            this.size = header.length + blocks * block.length;
        }

        @Override
        public int read(ByteBuffer into) {
            if (position >= size) {
                return -1;
            }
            boolean inHeader = position < header.length;
            byte[] from = inHeader ? header : block;
            int at = (int) (inHeader ? position : (position - header.length) % block.length);
            int length = Math.min(into.remaining(), from.length - at);
            into.put(from, at, length);
            position += length;
            return length;
        }

        @Override
        public long position() {
            return position;
        }

        @Override
        public SeekableByteChannel position(long newPosition) {
            position = newPosition;
            return this;
        }

        @Override
        public long size() {
            return size;
        }

        @Override
        public int write(ByteBuffer from) {
            throw new NonWritableChannelException();
        }

        @Override
        public SeekableByteChannel truncate(long newSize) {
            throw new NonWritableChannelException();
        }

        @Override
        public boolean isOpen() {
            return true;
        }

        @Override
        public void close() {}
    }

    @Test
    void shouldReadTenGigabytesThroughOneBuffer() throws Exception {
        Path file = folder.resolve("header.pcapng");
        Recordings.write(file, List.of(), false);
        byte[] header = Files.readAllBytes(file);
        int length = 250_000;
        int blockBytes = BlockEncoder.packetBytes(length, Pcapng.INBOUND);
        ByteBuffer block = ByteBuffer.wrap(new byte[blockBytes]).order(ByteOrder.LITTLE_ENDIAN);
        BlockEncoder.putPacket(block, 1, ManualClock.WALL_ANCHOR_NS + 5, Pcapng.INBOUND, new byte[length], 0, length);
        long blocks = 10_000_000_000L / blockBytes;
        RepeatingChannel channel = new RepeatingChannel(header, block.array(), blocks);

        ThreadMXBean threads = (ThreadMXBean) ManagementFactory.getThreadMXBean();
        long before = threads.getThreadAllocatedBytes(Thread.currentThread().getId());
        RecordingBlocks reading = RecordingBlocks.open(channel, file);
        RecordedItem item = new RecordedItem();
        long packets = 0;
        while (reading.next(item)) {
            packets++;
        }
        long allocated = threads.getThreadAllocatedBytes(Thread.currentThread().getId()) - before;
        assertEquals(blocks, packets);
        assertEquals(channel.size(), reading.wholeBytes());
        assertEquals("", reading.fault());
        assertTrue(allocated < 20_000_000, "allocated " + allocated + " bytes for 10 GB");
    }
}
