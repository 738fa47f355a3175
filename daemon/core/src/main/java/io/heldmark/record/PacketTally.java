package io.heldmark.record;

import java.nio.ByteBuffer;

/** How many packets of a recording are in the file; written by one thread, read by any. */
final class PacketTally {
    private volatile long chunks;
    private volatile long chunkBytes;
    private volatile long events;

    long chunks() {
        return chunks;
    }

    long chunkBytes() {
        return chunkBytes;
    }

    long events() {
        return events;
    }

    /**
     * Counts the packets in encoded, little-endian blocks.
     *
     * @return the end of the last whole block between the bounds.
     */
    static int countBlocks(ByteBuffer blocks, int from, int to, PacketTally into) {
        long chunks = 0;
        long bytes = 0;
        long events = 0;
        int at = from;
        while (to - at >= Pcapng.BLOCK_OVERHEAD_BYTES && to - at >= blocks.getInt(at + 4)) {
            if (blocks.getInt(at) == Pcapng.ENHANCED_PACKET) {
                boolean station = blocks.getInt(at + 8) == 0;
                chunks += station ? 0 : 1;
                events += station ? 1 : 0;
                bytes += station ? 0 : blocks.getInt(at + 20);
            }
            at += blocks.getInt(at + 4);
        }
        into.add(chunks, bytes, events);
        return at;
    }

    @SuppressWarnings("NonAtomicVolatileUpdate") // One thread writes; the others only need to see a recent value.
    private void add(long moreChunks, long moreBytes, long moreEvents) {
        chunks += moreChunks;
        chunkBytes += moreBytes;
        events += moreEvents;
    }
}
