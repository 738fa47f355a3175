package io.heldmark.protocol;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.nio.charset.StandardCharsets;
import java.util.Random;
import org.junit.jupiter.api.Test;

class Crc16Test {
    @Test
    void shouldGiveThePublishedCheckValue() {
        // Catalogue of parametrised CRC algorithms, CRC-16/IBM-3740 (alias CRC-16/CCITT-FALSE): check=0x29b1.
        byte[] digits = "123456789".getBytes(StandardCharsets.US_ASCII);
        assertEquals(0x29B1, Crc16.of(digits, 0, digits.length));
    }

    @Test
    void shouldGiveTheStartValueForNothing() {
        assertEquals(0xFFFF, Crc16.of(new byte[0], 0, 0));
    }

    @Test
    void shouldLeaveNoResidueAfterItsOwnCrcHighByteFirst() {
        // The catalogue gives residue=0x0000: CRC over message and CRC, highest byte first.
        byte[] message = {1, 2, 3, 4, 0, 0};
        int crc = Crc16.of(message, 0, 4);
        message[4] = (byte) (crc >> 8);
        message[5] = (byte) crc;
        assertEquals(0, Crc16.of(message, 0, 6));
    }

    @Test
    void shouldNoticeEveryChangeOfOneOrTwoBits() {
        // Every CRC with a polynomial that x + 1 divides finds these at our lengths; 0x11021 has an even number of
        // terms.
        byte[] frame = new byte[24];
        new Random(4).nextBytes(frame);
        int crc = Crc16.of(frame, 0, frame.length);
        for (int i = 0; i < 8 * frame.length; i++) {
            flip(frame, i);
            for (int j = i; j < 8 * frame.length; j++) {
                flip(frame, j);
                boolean same = i == j; // Flipped twice is not changed.
                assertEquals(same, Crc16.of(frame, 0, frame.length) == crc);
                flip(frame, j);
            }
            flip(frame, i);
        }
    }

    /** Bit by bit, as the catalogue defines it: width=16 poly=0x1021 init=0xffff refin=false refout=false xorout=0x0000. */
    @Test
    void shouldGiveWhatTheDefinitionGivesForEveryLengthAndPlace() {
        byte[] bytes = new byte[560];
        new Random(16).nextBytes(bytes);
        for (int offset = 0; offset < 20; offset++) {
            int crc = 0xFFFF;
            for (int length = 0; length < 530; length++) {
                assertEquals(crc, Crc16.of(bytes, offset, length));
                crc ^= (bytes[offset + length] & 0xFF) << 8;
                for (int bit = 0; bit < 8; bit++) {
                    crc = ((crc << 1) ^ ((crc & 0x8000) != 0 ? 0x1021 : 0)) & 0xFFFF;
                }
            }
        }
    }

    private static void flip(byte[] bytes, int bit) {
        bytes[bit / 8] ^= (byte) (1 << (bit % 8));
    }
}
