package io.heldmark.protocol;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Arrays;
import java.util.Random;
import org.junit.jupiter.api.Test;

class ShortFrameTest {
    private static final int ROUNDS = 40_000;

    private final Random random = new Random(64);
    private final byte[] out = new byte[ShortFrame.MAX_STUFFED_BYTES];

    @Test
    void shouldGiveWhatUnstuffingAndCheckGive() {
        for (int round = 0; round < ROUNDS; round++) {
            byte[] plain = plain();
            byte[] stuffed = stuffed(plain, round % 9);
            assertTrue(ShortFrame.decode(stuffed, round % 9, stuffed.length - round % 9, out));
            assertArrayEquals(
                    Arrays.copyOf(plain, plain.length - 2),
                    Arrays.copyOfRange(out, Cobs.DECODED_FROM, Cobs.DECODED_FROM + plain.length - 2));
        }
    }

    @Test
    void shouldJudgeDamagedFramesAsUnstuffingAndCheckDo() {
        int right = 0;
        for (int round = 0; round < ROUNDS; round++) {
            byte[] stuffed = stuffed(plain(), 0);
            for (int damage = random.nextInt(4); damage >= 0; damage--) {
                stuffed[random.nextInt(stuffed.length)] = (byte) (1 + random.nextInt(255));
            }
            byte[] copy = stuffed.clone();
            int length = Cobs.decode(copy, copy.length);
            boolean expected = length > 2
                    && length == stuffed.length - 1
                    && Crc16.of(copy, Cobs.DECODED_FROM, length - 2)
                            == LittleEndian.u16(copy, Cobs.DECODED_FROM + length - 2);
            assertEquals(expected, ShortFrame.decode(stuffed, 0, stuffed.length, out));
            right += expected ? 1 : 0;
        }
        assertTrue(right > 0 && right < ROUNDS); // Damage may write what was there.
    }

    @Test
    void shouldLeaveEveryFrameToTheSlowWayWhoseLastBlockIsNotWhole() {
        byte[] stuffed = stuffed(plain(), 0);
        assertFalse(ShortFrame.decode(stuffed, 0, stuffed.length - 1, out));
    }

    /** A message with its CRC: from nearly all zeros to hardly any, of every length that is short. */
    private byte[] plain() {
        int most = ShortFrame.MAX_STUFFED_BYTES - 1;
        int least = ShortFrame.MIN_STUFFED_BYTES - 1;
        byte[] plain = new byte[least + random.nextInt(most - least + 1)];
        random.nextBytes(plain);
        int zerosIn = 1 + random.nextInt(60);
        for (int i = 0; i < plain.length; i++) {
            plain[i] = random.nextInt(zerosIn) == 0 ? 0 : plain[i];
        }
        LittleEndian.put16(plain, plain.length - 2, Crc16.of(plain, 0, plain.length - 2));
        return plain;
    }

    private static byte[] stuffed(byte[] plain, int offset) {
        byte[] out = new byte[offset + plain.length + 1];
        assertEquals(plain.length + 1, Cobs.encode(plain, plain.length, out, offset));
        return out;
    }
}
