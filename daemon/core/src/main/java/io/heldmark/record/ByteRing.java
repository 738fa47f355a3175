package io.heldmark.record;

import java.lang.invoke.MethodHandles;
import java.lang.invoke.VarHandle;
import java.nio.ByteOrder;
import java.util.concurrent.atomic.AtomicLong;

/**
 * A ring of bytes between one producer and one consumer that carries items of any length without allocating.
 *
 * <pre>
 *  0          4       5        8            16                  16 + length, rounded up to 8
 *  +----------+-------+--------+------------+-------------------+
 *  | length   | kind  | link   | timeNs     | payload, may wrap |
 *  | u32      | u8    | u24    | i64        |                   |
 *  +----------+-------+--------+------------+-------------------+
 * </pre>
 *
 * <p><b>Assumptions.</b> (1) One thread calls {@link #offer}. (2) One other thread calls {@link #read}.
 *
 * <p><b>Guarantees.</b> (1) Items come out whole and in order. (2) Neither side ever waits for the other. (3) A full ring
 * refuses the item and changes nothing. (4) What the producer wrote before {@code offer} is visible to the consumer after
 * it has read the item.
 *
 * <p>Items begin at multiples of 8 and the capacity is one, so no word of a header is split by the wrap; payloads are.
 */
final class ByteRing {
    /** Bytes of an item before its payload. */
    static final int HEADER_BYTES = 16;

    private static final VarHandle LONGS = MethodHandles.byteArrayViewVarHandle(long[].class, ByteOrder.LITTLE_ENDIAN);
    private static final int KIND_SHIFT = 32;
    private static final int LINK_SHIFT = 40;

    private final byte[] ring;
    private final int mask;
    private final AtomicLong written = new AtomicLong();
    private final AtomicLong consumed = new AtomicLong();

    /** An item as the consumer takes it; reused. */
    static final class Item {
        int kind;
        int link;
        long timeNs;
        final byte[] bytes = new byte[Pcapng.MAX_PACKET_BYTES];
        int length;
    }

    /**
     * Makes an empty ring.
     *
     * @param capacityBytes a power of two that holds at least one header.
     */
    ByteRing(int capacityBytes) {
        if (capacityBytes < HEADER_BYTES || Integer.bitCount(capacityBytes) != 1) {
            throw new IllegalArgumentException("capacityBytes out of range: capacityBytes=" + capacityBytes);
        }
        ring = new byte[capacityBytes];
        mask = capacityBytes - 1;
    }

    int capacityBytes() {
        return ring.length;
    }

    /** Returns the free room as the producer may count on it: the consumer only makes it larger. */
    long freeBytes() {
        return ring.length - (written.get() - consumed.get());
    }

    /** Returns the position behind the last item, for {@link #read}. */
    long end() {
        return written.get();
    }

    /** Puts an item in; false where there is no room or the payload is longer than a packet may be. */
    boolean offer(int kind, int link, long timeNs, byte[] bytes, int offset, int length) {
        long at = written.get();
        long next = at + itemBytes(length);
        if (length > Pcapng.MAX_PACKET_BYTES || next - consumed.get() > ring.length) {
            return false;
        }
        int index = (int) (at & mask);
        LONGS.set(ring, index, length | ((long) kind << KIND_SHIFT) | ((long) link << LINK_SHIFT));
        LONGS.set(ring, (index + 8) & mask, timeNs);
        int start = (index + HEADER_BYTES) & mask;
        int first = Math.min(length, ring.length - start);
        System.arraycopy(bytes, offset, ring, start, first);
        System.arraycopy(bytes, offset + first, ring, 0, length - first);
        written.lazySet(next);
        return true;
    }

    /**
     * Takes the next item out.
     *
     * @param end an earlier {@link #end}: items behind it stay, so that a busy producer cannot keep the consumer here.
     * @return false where there is none before the end.
     */
    boolean read(Item into, long end) {
        long at = consumed.get();
        if (at >= end) {
            return false;
        }
        int index = (int) (at & mask);
        long word = (long) LONGS.get(ring, index);
        into.length = (int) word;
        into.kind = (int) (word >>> KIND_SHIFT) & 0xFF;
        into.link = (int) (word >>> LINK_SHIFT);
        into.timeNs = (long) LONGS.get(ring, (index + 8) & mask);
        int start = (index + HEADER_BYTES) & mask;
        int first = Math.min(into.length, ring.length - start);
        System.arraycopy(ring, start, into.bytes, 0, first);
        System.arraycopy(ring, 0, into.bytes, first, into.length - first);
        consumed.lazySet(at + itemBytes(into.length));
        return true;
    }

    private static long itemBytes(int length) {
        return (HEADER_BYTES + (long) length + 7) & ~7L;
    }
}
