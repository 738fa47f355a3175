package io.heldmark.record;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;

/**
 * Writes pcapng blocks, always little-endian.
 *
 * <pre>
 *  0        4        8                                              n-4
 *  +--------+--------+--------------------+-------------------------+--------+
 *  | type   | length | body, padded to 4  | options: code, length,  | length |
 *  | u32    | u32    |                    | value padded to 4 ...   | u32    |
 *  +--------+--------+--------------------+-------------------------+--------+
 * </pre>
 *
 * <p><b>Source.</b> See {@link Pcapng}.
 */
final class BlockEncoder {
    private static final int FLAGS_OPTION_BYTES = 8;
    private static final int END_OPTION_BYTES = 4;

    private BlockEncoder() {}

    /** Makes a section header of unknown length with the program's name and one comment. */
    static byte[] sectionHeader(String userApplication, String comment) {
        byte[] application = userApplication.getBytes(StandardCharsets.UTF_8);
        byte[] facts = comment.getBytes(StandardCharsets.UTF_8);
        ByteBuffer out = block(
                Pcapng.SECTION_HEADER,
                Pcapng.SECTION_BODY_BYTES + optionBytes(application.length) + optionBytes(facts.length));
        out.putInt(Pcapng.BYTE_ORDER_MAGIC)
                .putShort((short) 1)
                .putShort((short) 0)
                .putLong(-1);
        putOption(out, Pcapng.SHB_USERAPPL, application);
        putOption(out, Pcapng.OPT_COMMENT, facts);
        return close(out);
    }

    /** Makes an interface description with nanosecond times and no snap length. */
    static byte[] interfaceDescription(int linkType, String name, String description, String comment) {
        byte[] ifName = name.getBytes(StandardCharsets.UTF_8);
        byte[] ifDescription = description.getBytes(StandardCharsets.UTF_8);
        byte[] facts = comment.getBytes(StandardCharsets.UTF_8);
        int options = optionBytes(ifName.length)
                + optionBytes(ifDescription.length)
                + optionBytes(1)
                + optionBytes(facts.length);
        ByteBuffer out = block(Pcapng.INTERFACE_DESCRIPTION, Pcapng.INTERFACE_BODY_BYTES + options);
        out.putShort((short) linkType).putShort((short) 0).putInt(0);
        putOption(out, Pcapng.IF_NAME, ifName);
        putOption(out, Pcapng.IF_DESCRIPTION, ifDescription);
        putOption(out, Pcapng.IF_TSRESOL, new byte[] {9});
        putOption(out, Pcapng.OPT_COMMENT, facts);
        return close(out);
    }

    /** Returns how long the block of a packet is, in bytes. */
    static int packetBytes(int length, int direction) {
        int options = direction == 0 ? 0 : FLAGS_OPTION_BYTES + END_OPTION_BYTES;
        return Pcapng.BLOCK_OVERHEAD_BYTES + Pcapng.PACKET_BODY_BYTES + Pcapng.padded(length) + options;
    }

    /**
     * Puts a packet; the buffer is little-endian and has the room.
     *
     * @param direction {@link Pcapng#INBOUND}, {@link Pcapng#OUTBOUND} or 0 for neither.
     */
    static void putPacket(
            ByteBuffer out, int interfaceId, long timeNs, int direction, byte[] bytes, int offset, int length) {
        int total = packetBytes(length, direction);
        out.putInt(Pcapng.ENHANCED_PACKET).putInt(total).putInt(interfaceId);
        out.putInt((int) (timeNs >>> 32)).putInt((int) timeNs).putInt(length).putInt(length);
        out.put(bytes, offset, length);
        pad(out, length);
        if (direction != 0) {
            out.putShort((short) Pcapng.EPB_FLAGS).putShort((short) 4).putInt(direction);
            out.putInt(Pcapng.OPT_END);
        }
        out.putInt(total);
    }

    private static int optionBytes(int length) {
        return 4 + Pcapng.padded(length);
    }

    private static ByteBuffer block(int type, int bodyBytes) {
        int total = Pcapng.BLOCK_OVERHEAD_BYTES + bodyBytes + END_OPTION_BYTES;
        return ByteBuffer.allocate(total)
                .order(ByteOrder.LITTLE_ENDIAN)
                .putInt(type)
                .putInt(total);
    }

    private static void putOption(ByteBuffer out, int code, byte[] value) {
        out.putShort((short) code).putShort((short) value.length).put(value);
        pad(out, value.length);
    }

    private static void pad(ByteBuffer out, int length) {
        for (int i = length; i < Pcapng.padded(length); i++) {
            out.put((byte) 0);
        }
    }

    private static byte[] close(ByteBuffer out) {
        byte[] block = new byte[out.capacity()];
        out.putInt(Pcapng.OPT_END).putInt(block.length);
        out.rewind().get(block);
        return block;
    }
}
