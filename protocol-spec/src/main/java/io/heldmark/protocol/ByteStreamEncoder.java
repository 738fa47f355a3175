package io.heldmark.protocol;

/**
 * Encodes the byte-stream binding: type, payload and CRC, stuffed, ended by 0x00.
 *
 * <p><b>Source.</b> {@code protocol-spec/gaugeline-v1.md}, section "Byte-stream binding".
 */
public final class ByteStreamEncoder extends BinaryEncoder {
    private final byte[] frame = new byte[Wire.MAX_FRAME_BYTES];

    /** Creates an encoder. */
    public ByteStreamEncoder() {}

    /**
     * Writes the single 0x00 that a sender sends when it starts, so that noise before it ends there.
     *
     * @return 1, the number of bytes written.
     */
    public static int opening(byte[] out, int outOffset) {
        out[outOffset] = 0;
        return 1;
    }

    @Override
    int maxPayload(int type) {
        return Wire.MAX_PAYLOAD_BYTES;
    }

    @Override
    int wrap(int type, int length, byte[] out, int outOffset) {
        frame[0] = (byte) type;
        System.arraycopy(payload, 0, frame, 1, length);
        LittleEndian.put16(frame, length + 1, Crc16.of(frame, 0, length + 1));
        int stuffed = Cobs.encode(frame, length + 3, out, outOffset);
        out[outOffset + stuffed] = 0;
        return stuffed + 1;
    }
}
