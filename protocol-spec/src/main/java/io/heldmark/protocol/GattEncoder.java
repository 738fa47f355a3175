package io.heldmark.protocol;

/**
 * Encodes the Bluetooth LE binding: one characteristic value a message, after one byte that says which characteristic
 * it belongs to. A sender drops that byte and checks the value against its own MTU.
 *
 * <p><b>Source.</b> {@code protocol-spec/gaugeline-v1.md}, section "GATT binding".
 */
public final class GattEncoder extends BinaryEncoder {
    /** Creates an encoder. */
    public GattEncoder() {}

    @Override
    int maxPayload(int type) {
        boolean typed = type != Wire.DESCRIBE && type != Wire.SAMPLES;
        return Wire.MAX_VALUE_BYTES - (typed ? 1 : 0); // The type byte is a part of the value.
    }

    @Override
    int wrap(int type, int length, byte[] out, int outOffset) {
        int at = outOffset;
        switch (type) {
            case Wire.DESCRIBE -> out[at++] = Wire.GATT_DESCRIBE;
            case Wire.SAMPLES -> out[at++] = Wire.GATT_STREAM;
            case Wire.COMMAND, Wire.PING -> {
                out[at++] = Wire.GATT_COMMAND;
                out[at++] = (byte) type;
            }
            default -> {
                out[at++] = Wire.GATT_REPLY;
                out[at++] = (byte) type;
            }
        }
        System.arraycopy(payload, 0, out, at, length);
        return at + length - outOffset;
    }
}
