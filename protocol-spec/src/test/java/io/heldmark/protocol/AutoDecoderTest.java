package io.heldmark.protocol;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.protocol.Vectors.Vector;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

class AutoDecoderTest {
    private final Transcript seen = new Transcript();
    private final AutoDecoder decoder = new AutoDecoder(seen);

    static List<Vector> vectorsWithAMessage() {
        return Vectors.all().stream()
                .filter(v -> !v.isGatt())
                .filter(v -> v.json().get("counters").path("messages").asInt()
                        > v.json().get("counters").path("unknownMessages").asInt())
                .toList();
    }

    @ParameterizedTest
    @MethodSource("vectorsWithAMessage")
    void shouldDecodeLikeTheDecoderOfTheBinding(Vector v) {
        byte[] bytes = v.bytes();
        Transcript expected = new Transcript();
        StreamDecoder plain = v.decoder(expected);
        plain.accept(bytes, 0, bytes.length);
        for (int piece : new int[] {bytes.length, 1, 5}) {
            Transcript found = new Transcript();
            AutoDecoder auto = new AutoDecoder(found);
            for (int at = 0; at < bytes.length; at += piece) {
                auto.accept(bytes, at, Math.min(piece, bytes.length - at));
            }
            assertEquals(v.binding().equals("text") ? AutoDecoder.Found.TEXT : AutoDecoder.Found.BYTES, auto.found());
            assertEquals(expected.lines, found.lines);
            assertEquals(Counters.of(plain), Counters.of(auto));
        }
    }

    @Test
    void shouldStayUndecidedOnRemarksAndUnknownLines() {
        accept("# boot\nX,1\nHello\n");
        assertEquals(AutoDecoder.Found.UNDECIDED, decoder.found());
        accept("P,1\n");
        assertEquals(AutoDecoder.Found.TEXT, decoder.found());
        assertEquals(List.of("unknown 88 3", "ping 1"), seen.lines);
        assertEquals(1, decoder.counters().malformed);
    }

    @Test
    void shouldDecideByADescribeOfAnotherMajorVersion() {
        accept("D,2.0,other\nE\n");
        assertEquals(AutoDecoder.Found.TEXT, decoder.found());
        decoder.reset();
        byte[] frame = {1, 2, 0, 0, 0};
        LittleEndian.put16(frame, 3, Crc16.of(frame, 0, 3));
        byte[] stuffed = new byte[9];
        decoder.accept(stuffed, 0, Cobs.encode(frame, frame.length, stuffed, 0) + 1);
        assertEquals(AutoDecoder.Found.BYTES, decoder.found());
        assertEquals(List.of("unknown 1 14", "unknown 1 2"), seen.lines);
    }

    @Test
    void shouldKeepItsDecisionAndDecideAnewAfterAReset() {
        accept("P,1\n");
        byte[] frame = pingFrame();
        decoder.accept(frame, 0, frame.length);
        accept("\nP,2\n");
        assertEquals(List.of("ping 1", "ping 2"), seen.lines);
        decoder.reset();
        assertEquals(AutoDecoder.Found.UNDECIDED, decoder.found());
        decoder.accept(frame, 0, frame.length);
        assertEquals(AutoDecoder.Found.BYTES, decoder.found());
        assertEquals(List.of("ping 1", "ping 2", "ping 7"), seen.lines);
        assertAccount();
    }

    @Test
    void shouldKeepTheLongestTextDescribeWhole() {
        byte[] junk = new byte[50_000];
        new Random(8).nextBytes(junk);
        decoder.accept(junk, 0, junk.length);
        StringBuilder text = new StringBuilder("\nD,1.0,id=a,tickhz=1,ratemhz=1")
                .append(",x-fill=")
                .append("f".repeat(150));
        for (int i = 0; i < 8; i++) {
            text.append("\nC,").append(i).append(",bits=24,x-fill=").append("f".repeat(180));
        }
        for (int i = 0; i < 8; i++) {
            text.append("\nK,").append(i).append(",zero=0,slope=1,x-fill=").append("f".repeat(170));
        }
        accept(text + "\nE,16\n");
        assertEquals(AutoDecoder.Found.TEXT, decoder.found());
        assertEquals(
                1, seen.lines.stream().filter(l -> l.startsWith("Describe")).count());
        decoder.reset();
        assertAccount();
    }

    @Test
    void shouldSuspectAWrongBaudRateAfterManyBytesWithoutAMessage() {
        Random random = new Random(5);
        byte[] noise = new byte[200];
        for (int i = 0; i < 7; i++) {
            random.nextBytes(noise);
            decoder.accept(noise, 0, noise.length);
            assertFalse(decoder.looksLikeWrongBaudRate());
        }
        decoder.accept(noise, 0, noise.length);
        assertTrue(decoder.looksLikeWrongBaudRate());
        decoder.reset();
        assertFalse(decoder.looksLikeWrongBaudRate());
    }

    @Test
    void shouldNotSuspectItWhereAMessageOrForeignTextArrives() {
        byte[] noise = new byte[5000];
        new Random(6).nextBytes(noise);
        decoder.accept(noise, 0, noise.length);
        accept("\nP,1\n");
        assertFalse(decoder.looksLikeWrongBaudRate());
        decoder.reset();
        accept("temperature 20.5 degrees\r\n".repeat(100));
        assertEquals(AutoDecoder.Found.UNDECIDED, decoder.found());
        assertFalse(decoder.looksLikeWrongBaudRate());
    }

    @Test
    void shouldAccountForEveryByteWhileUndecided() {
        byte[] noise = new byte[100_003];
        new Random(7).nextBytes(noise);
        decoder.accept(noise, 0, noise.length);
        DecoderCounters c = decoder.counters();
        assertEquals(noise.length, c.bytes);
        assertTrue(c.bytes - c.skippedBytes <= 2L * Wire.MAX_MESSAGE_BYTES);
        decoder.reset();
        assertAccount();
    }

    private void assertAccount() {
        DecoderCounters c = decoder.counters();
        assertEquals(c.bytes, c.messageBytes + c.skippedBytes + c.idleBytes);
    }

    private void accept(String text) {
        byte[] bytes = text.getBytes(StandardCharsets.US_ASCII);
        decoder.accept(bytes, 0, bytes.length);
    }

    private static byte[] pingFrame() {
        byte[] out = new byte[Wire.MAX_MESSAGE_BYTES];
        int length = new ByteStreamEncoder().ping(7, out, 0);
        return Arrays.copyOf(out, length);
    }
}
