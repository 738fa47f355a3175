package io.heldmark.protocol;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Arrays;
import java.util.HexFormat;
import java.util.Random;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class CobsTest {
    /** Cheshire and Baker (1999), figure 3; then examples in wide use, among them those of the Wikipedia article. */
    @ParameterizedTest
    @CsvSource({
        "4500002C4C79000040064F37, 024501042C4C79010540064F37",
        "00, 0101",
        "0000, 010101",
        "001100, 01021101",
        "11220033, 0311220233",
        "11223344, 0511223344",
        "11000000, 0211010101",
        "'', 01",
    })
    void shouldStuffThePublishedExamples(String plain, String stuffed) {
        assertStuffs(hex(plain), hex(stuffed));
    }

    @Test
    void shouldStuffTheLongExampleOfThePaper() {
        // Figure 2: a packet of 680 bytes, the last of them zero, has blocks FF, FF and AC.
        byte[] plain = new byte[680];
        Arrays.fill(plain, 0, 679, (byte) 1);
        byte[] stuffed = new byte[683];
        Arrays.fill(stuffed, (byte) 1); // The last block is empty: 01.
        stuffed[0] = (byte) 0xFF;
        stuffed[255] = (byte) 0xFF;
        stuffed[510] = (byte) 0xAC;
        assertStuffs(plain, stuffed);
    }

    /** Published edge cases around a full block: 01..FE, 00..FE, 01..FF, 02..FF 00, 03..FF 00 01 (Wikipedia's last five). */
    @Test
    void shouldStuffFullBlocksAsPublished() {
        assertStuffs(run(0x01, 0xFE), join(hex("FF"), run(0x01, 0xFE)));
        assertStuffs(run(0x00, 0xFE), join(hex("01FF"), run(0x01, 0xFE)));
        assertStuffs(run(0x01, 0xFF), join(hex("FF"), run(0x01, 0xFE), hex("02FF")));
        assertStuffs(join(run(0x02, 0xFF), hex("00")), join(hex("FF"), run(0x02, 0xFF), hex("0101")));
        assertStuffs(join(run(0x03, 0xFF), hex("0001")), join(hex("FE"), run(0x03, 0xFF), hex("0201")));
    }

    @Test
    void shouldAcceptAnEmptyBlockAfterAFullOne() {
        byte[] stuffed = join(hex("FF"), run(0x01, 0xFE), hex("01"));
        assertEquals(254, Cobs.decode(stuffed, stuffed.length));
        assertArrayEquals(run(0x01, 0xFE), Arrays.copyOfRange(stuffed, 1, 255));
    }

    @Test
    void shouldRefuseABlockThatReachesPastTheEnd() {
        assertEquals(-1, Cobs.decode(hex("0501"), 2));
        assertEquals(-1, Cobs.decode(hex("02"), 1));
        assertEquals(-1, Cobs.decode(hex("0201FF"), 3));
    }

    @Test
    void shouldGiveBackRandomBytesWithinThePromisedOverhead() {
        Random random = new Random(1999);
        for (int round = 0; round < 20_000; round++) {
            byte[] plain = new byte[random.nextInt(600)];
            random.nextBytes(plain);
            int zerosIn = 1 + random.nextInt(600); // From nearly all zeros to hardly any.
            for (int i = 0; i < plain.length; i++) {
                plain[i] = random.nextInt(zerosIn) == 0 ? 0 : plain[i];
            }
            byte[] out = new byte[700];
            int length = Cobs.encode(plain, plain.length, out, 3);
            assertTrue(length >= plain.length + 1 && length <= plain.length + Math.max(1, (plain.length + 253) / 254));
            byte[] stuffed = Arrays.copyOfRange(out, 3, 3 + length);
            for (byte b : stuffed) {
                assertTrue(b != 0);
            }
            assertEquals(plain.length, Cobs.decode(stuffed, length));
            assertArrayEquals(plain, Arrays.copyOfRange(stuffed, 1, 1 + plain.length));
        }
    }

    /** Marks that lie, too; long blocks are made frequent. */
    @Test
    void shouldDecodeAnythingAsThePlainMethodDoes() {
        Random random = new Random(2026);
        int refused = 0;
        for (int round = 0; round < 50_000; round++) {
            byte[] stuffed = new byte[1 + random.nextInt(700)];
            random.nextBytes(stuffed);
            int marks = 1 + random.nextInt(4);
            for (int i = 0; i < stuffed.length; i++) {
                boolean full = random.nextInt(1 << (2 * marks)) == 0;
                stuffed[i] = full ? (byte) 0xFF : stuffed[i] == 0 ? 1 : stuffed[i];
            }
            if (random.nextBoolean()) {
                endWell(stuffed);
            }
            byte[] expected = plainly(stuffed);
            int length = Cobs.decode(stuffed, stuffed.length);
            assertEquals(expected == null ? -1 : expected.length, length);
            if (expected != null) {
                assertArrayEquals(expected, Arrays.copyOfRange(stuffed, 1, 1 + length));
            }
            refused += expected == null ? 1 : 0;
        }
        assertTrue(refused > 5_000 && refused < 45_000, "refused " + refused);
    }

    /** Shortens the last block to what there is. */
    private static void endWell(byte[] stuffed) {
        int at = 0;
        while (at + (stuffed[at] & 0xFF) < stuffed.length) {
            at += stuffed[at] & 0xFF;
        }
        stuffed[at] = (byte) (stuffed.length - at);
    }

    /** Byte by byte, as the paper describes it; null where a block reaches past the end. */
    private static byte @Nullable [] plainly(byte[] stuffed) {
        java.io.ByteArrayOutputStream plain = new java.io.ByteArrayOutputStream();
        int at = 0;
        while (at < stuffed.length) {
            int code = stuffed[at] & 0xFF;
            if (at + code > stuffed.length) {
                return null;
            }
            plain.write(stuffed, at + 1, code - 1);
            at += code;
            if (code < 0xFF && at < stuffed.length) {
                plain.write(0);
            }
        }
        return plain.toByteArray();
    }

    private static void assertStuffs(byte[] plain, byte[] stuffed) {
        byte[] out = new byte[800];
        assertArrayEquals(stuffed, Arrays.copyOf(out, Cobs.encode(plain, plain.length, out, 0)));
        byte[] inPlace = stuffed.clone();
        assertArrayEquals(plain, Arrays.copyOfRange(inPlace, 1, 1 + Cobs.decode(inPlace, inPlace.length)));
    }

    private static byte[] hex(String hex) {
        return HexFormat.of().parseHex(hex);
    }

    private static byte[] run(int first, int last) {
        byte[] bytes = new byte[last - first + 1];
        for (int i = 0; i < bytes.length; i++) {
            bytes[i] = (byte) (first + i);
        }
        return bytes;
    }

    private static byte[] join(byte[]... parts) {
        java.io.ByteArrayOutputStream all = new java.io.ByteArrayOutputStream();
        for (byte[] part : parts) {
            all.writeBytes(part);
        }
        return all.toByteArray();
    }
}
