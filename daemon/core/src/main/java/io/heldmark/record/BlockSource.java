package io.heldmark.record;

import java.io.IOException;
import java.lang.invoke.MethodHandles;
import java.lang.invoke.VarHandle;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.channels.SeekableByteChannel;

/**
 * Walks through the blocks of a pcapng section, forwards, through one bounded buffer.
 *
 * <p><b>Errors.</b> A block that is not whole or contradicts itself ends the walk; {@link #fault} says how and
 * {@link #wholeBytes} where. A block too long for the buffer is passed over if its type is not one that recordings use.
 *
 * <p>Both byte orders are read; the section header's magic tells which.
 *
 * <p><b>Source.</b> See {@link Pcapng}; general block structure, section 3.1.
 */
final class BlockSource {
    /** Longest block that is looked into: the longest packet, three full options and some. */
    static final int MAX_BLOCK_BYTES = 1 << 20;

    private static final int HEAD_BYTES = 8;

    /** Bytes read at once where no block needs more: they are still in the processor's cache when they are looked at. */
    private static final int PIECE_BYTES = 1 << 17;

    private static final VarHandle INT = MethodHandles.byteArrayViewVarHandle(int[].class, ByteOrder.LITTLE_ENDIAN);

    private final SeekableByteChannel channel;
    private final ByteBuffer buffer = ByteBuffer.allocate(MAX_BLOCK_BYTES).limit(0);
    private final byte[] bytes = buffer.array();
    private boolean bigEndian;
    private long bufferStart;
    private int limit; // of the buffer
    private long blockStart;
    private long nextStart;
    private int type;
    private int bodyIndex;
    private int length;
    private String fault = "";

    /** Starts at the beginning of the channel. */
    BlockSource(SeekableByteChannel channel) {
        this.channel = channel;
    }

    /** Goes to the next block; false at the end of the whole blocks. */
    boolean next() throws IOException {
        int at = indexOf(nextStart);
        return nextHeld(at, limit - at) || nextOfAll();
    }

    /** Goes to the next block where it is in the buffer, whole, without fault and no section header: nearly always. */
    private boolean nextHeld(int at, int held) {
        if (held < Pcapng.BLOCK_OVERHEAD_BYTES || !fault.isEmpty()) {
            return false;
        }
        int blockType = word(at);
        int total = word(at + 4);
        boolean fits = total >= Pcapng.BLOCK_OVERHEAD_BYTES && total <= held && (total & 3) == 0;
        if (!fits || blockType == Pcapng.SECTION_HEADER || word(at + total - Integer.BYTES) != total) {
            return false;
        }
        blockStart = nextStart;
        nextStart += total;
        type = blockType;
        bodyIndex = at + HEAD_BYTES;
        length = total;
        return true;
    }

    private boolean nextOfAll() throws IOException {
        long start = nextStart;
        if (!fault.isEmpty()) {
            return false;
        }
        int available = require(start, HEAD_BYTES + Integer.BYTES);
        if (available < Pcapng.BLOCK_OVERHEAD_BYTES) {
            return available > 0 && fault("a block is cut off");
        }
        int at = indexOf(start);
        if (word(at) == Pcapng.SECTION_HEADER && !readByteOrder(at)) {
            return fault("a section header has no byte-order magic");
        }
        long total = Integer.toUnsignedLong(word(at + 4));
        if (total < Pcapng.BLOCK_OVERHEAD_BYTES || total % 4 != 0) {
            return fault("a block says that it is " + total + " bytes long");
        }
        return take(start, word(at), total);
    }

    /** Returns the block's type. */
    int type() {
        return type;
    }

    /** Returns where in the file the block begins. */
    long blockStart() {
        return blockStart;
    }

    /** Returns the index of the block's body in {@link #buffer}. */
    int bodyIndex() {
        return bodyIndex;
    }

    /** Returns the length of the body, without type and lengths; 0 for a block that was passed over. */
    int bodyBytes() {
        return length == 0 ? 0 : length - Pcapng.BLOCK_OVERHEAD_BYTES;
    }

    /** Returns the buffer, in the section's byte order; valid until {@link #next}. */
    ByteBuffer buffer() {
        return buffer;
    }

    /** Returns the bytes of {@link #buffer}. */
    byte[] bytes() {
        return bytes;
    }

    /** Returns the 32 bits at an index of the buffer, in the section's byte order. */
    int word(int index) {
        int littleEndian = (int) INT.get(bytes, index);
        return bigEndian ? Integer.reverseBytes(littleEndian) : littleEndian;
    }

    /** Returns the word with which an option begins, as {@link #word} reads it: two numbers of 16 bits. */
    int optionHead(int code, int valueBytes) {
        return bigEndian ? code << 16 | valueBytes : valueBytes << 16 | code;
    }

    /** Returns the end of the last whole block, in bytes from the start of the file. */
    long wholeBytes() {
        return nextStart;
    }

    /** Returns why the walk ended before the end of the file; empty where it did not. */
    String fault() {
        return fault;
    }

    private boolean take(long start, int blockType, long total) throws IOException {
        boolean ours = blockType == Pcapng.SECTION_HEADER
                || blockType == Pcapng.INTERFACE_DESCRIPTION
                || blockType == Pcapng.ENHANCED_PACKET;
        boolean fits = total <= MAX_BLOCK_BYTES;
        if (!fits && ours) {
            return fault("a block says that it is " + total + " bytes long");
        }
        if (start + total > bufferStart + limit && start + total > channel.size()) {
            return fault("a block is cut off");
        }
        long trailer = start + total - Integer.BYTES;
        if (require(fits ? start : trailer, fits ? (int) total : Integer.BYTES) < (fits ? total : Integer.BYTES)) {
            return fault("a block is cut off");
        }
        if (Integer.toUnsignedLong(word(indexOf(trailer))) != total) {
            return fault("the two lengths of a block differ");
        }
        blockStart = start;
        nextStart = start + total;
        type = blockType;
        bodyIndex = fits ? indexOf(start) + HEAD_BYTES : 0;
        length = fits ? (int) total : 0;
        return true;
    }

    private boolean readByteOrder(int at) {
        for (ByteOrder order : new ByteOrder[] {ByteOrder.LITTLE_ENDIAN, ByteOrder.BIG_ENDIAN}) {
            buffer.order(order);
            bigEndian = order == ByteOrder.BIG_ENDIAN;
            if (word(at + HEAD_BYTES) == Pcapng.BYTE_ORDER_MAGIC) {
                return true;
            }
        }
        return false;
    }

    private boolean fault(String what) {
        fault = what;
        return false;
    }

    private int indexOf(long position) {
        return (int) (position - bufferStart);
    }

    /** Makes the bytes from a position on available; returns how many there are, at most as many as asked for. */
    private int require(long position, int needed) throws IOException {
        long held = bufferStart + limit - position;
        if (position >= bufferStart && held >= needed) {
            return needed;
        }
        if (position >= bufferStart && held > 0) {
            buffer.position(indexOf(position)).compact();
        } else {
            buffer.clear();
        }
        bufferStart = position;
        channel.position(position + buffer.position());
        buffer.limit(Math.min(MAX_BLOCK_BYTES, Math.max(needed, buffer.position() + PIECE_BYTES)));
        fill(channel, buffer);
        buffer.flip();
        limit = buffer.limit();
        return Math.min(needed, limit);
    }

    /** Reads until the buffer is full or the file ends: one read may return less than asked for. */
    static void fill(SeekableByteChannel channel, ByteBuffer buffer) throws IOException {
        int read = 0;
        while (buffer.hasRemaining() && read >= 0) {
            read = channel.read(buffer);
        }
    }
}
