package io.heldmark.record;

/**
 * Numbers of the pcapng format that recordings use.
 *
 * <p><b>Source.</b> PCAP Next Generation (pcapng) Capture File Format, IETF draft-ietf-opsawg-pcapng: general block and
 * options (section 3), section header, interface description and enhanced packet blocks (section 4). Link types: the
 * USER range of draft-ietf-opsawg-pcaplinktype (147 to 162), private by agreement of both sides.
 */
final class Pcapng {
    static final int SECTION_HEADER = 0x0A0D0D0A;
    static final int INTERFACE_DESCRIPTION = 1;
    static final int ENHANCED_PACKET = 6;
    static final int BYTE_ORDER_MAGIC = 0x1A2B3C4D;

    /** Type, length and the length again behind the body. */
    static final int BLOCK_OVERHEAD_BYTES = 12;

    /** Body of a section header before its options: magic, version, section length. */
    static final int SECTION_BODY_BYTES = 16;

    /** Body of an interface description before its options: link type, reserved, snap length. */
    static final int INTERFACE_BODY_BYTES = 8;

    /** Body of an enhanced packet before its data: interface, time (high, low), captured and original length. */
    static final int PACKET_BODY_BYTES = 20;

    static final int OPT_END = 0;
    static final int OPT_COMMENT = 1;
    static final int SHB_USERAPPL = 4;
    static final int IF_NAME = 2;
    static final int IF_DESCRIPTION = 3;
    static final int IF_TSRESOL = 9;
    static final int IF_TSOFFSET = 14;
    static final int EPB_FLAGS = 2;

    /** Direction bits of {@code epb_flags}. */
    static final int DIRECTION_MASK = 0b11;

    static final int INBOUND = 0b01;
    static final int OUTBOUND = 0b10;

    /** LINKTYPE_USER0: the bytes of a link, as they came. */
    static final int LINKTYPE_LINK = 147;

    /** LINKTYPE_USER1: JSON objects of the station. */
    static final int LINKTYPE_STATION = 148;

    /** Longest payload of a packet; capture tools take longer ones for damage. */
    static final int MAX_PACKET_BYTES = 262_144;

    private Pcapng() {}

    /** Returns the length rounded up to whole 32-bit words. */
    static int padded(int length) {
        return (length + 3) & ~3;
    }
}
