package io.heldmark.protocol;

import java.io.ByteArrayOutputStream;
import java.util.Arrays;

/** Makes frames with a right CRC of any bytes: each is preceded by its length as a little-endian u16, modulo 520. */
final class FrameSeal {
    private FrameSeal() {}

    static byte[] seal(byte[] data) {
        ByteArrayOutputStream all = new ByteArrayOutputStream();
        int at = 0;
        while (at + 2 <= data.length) {
            int length = Math.min(LittleEndian.u16(data, at) % 520, data.length - at - 2);
            at += 2;
            byte[] frame = Arrays.copyOfRange(data, at, at + length + 2);
            LittleEndian.put16(frame, length, Crc16.of(frame, 0, length));
            byte[] stuffed = new byte[length + 10];
            all.write(stuffed, 0, Cobs.encode(frame, frame.length, stuffed, 0));
            all.write(0);
            at += length;
        }
        return all.toByteArray();
    }
}
