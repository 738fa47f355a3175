package io.heldmark.protocol;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.function.Function;
import org.junit.jupiter.api.Test;

class RoundTripTest {
    private static final Describe DESCRIBE = new Describe(
            1,
            0,
            Describe.CAN_COMMAND | Describe.CAN_PING,
            1_000_000,
            1_000_000,
            "cell-7F3A",
            "Two-cell board",
            "1.4.2",
            List.of(80_000L, 1_000_000L),
            List.of(
                    new Channel(
                            0,
                            "left",
                            24,
                            262.5f,
                            128,
                            2000,
                            Optional.of(new FactoryCalibration(8421, 0.0012345f, 0.001f, 20250314))),
                    new Channel(
                            1,
                            "right",
                            24,
                            0,
                            0,
                            0,
                            Optional.of(new FactoryCalibration(-17, -1.5e-7f, Float.NaN, 0)))));

    @Test
    void shouldGiveBackEveryMessageInTheByteStream() {
        assertGivesBack(new ByteStreamEncoder(), ByteStreamDecoder::new);
    }

    @Test
    void shouldGiveBackEveryMessageInText() {
        assertGivesBack(new TextEncoder(), TextDecoder::new);
        assertGivesBack(TextEncoder.withoutChecks(), TextDecoder::new);
    }

    @Test
    void shouldGiveBackEveryMessageInGatt() {
        assertGivesBack(new GattEncoder(), GattDecoder::new);
    }

    @Test
    void shouldGiveBackEveryMessageThroughTheAutoDecoder() {
        assertGivesBack(new ByteStreamEncoder(), AutoDecoder::new);
        assertGivesBack(new TextEncoder(), AutoDecoder::new);
    }

    private static void assertGivesBack(MessageEncoder e, Function<MessageHandler, StreamDecoder> decoderOf) {
        Transcript expected = new Transcript();
        Transcript seen = new Transcript();
        StreamDecoder decoder = decoderOf.apply(seen);
        byte[] out = new byte[Wire.MAX_MESSAGE_BYTES];

        decoder.accept(out, 0, e.describe(DESCRIBE, out, 0));
        expected.onDescribe(DESCRIBE);
        int[] counts = {0, -8_388_608, 8_388_607};
        decoder.accept(out, 7, e.samples(65535, 0xFFFF_FFFFL, 5, 3, 1, counts, 1, 3, out, 7));
        expected.lines.add("samples 65535 4294967295 5 3 1: -8388608 8388607");
        for (Status s : List.of(
                new Status(12, OptionalInt.empty(), OptionalDouble.empty(), 0, 0, 0),
                new Status(0xFFFF_FFFFL, OptionalInt.of(87), OptionalDouble.of(-3.4), 65535, 0xFFFF_FFFFL, 3))) {
            decoder.accept(out, 0, e.status(s, out, 0));
            expected.onStatus(s);
        }
        Command c = new Command(Command.SET_RATE, 200, new byte[] {0x40, 0x42, 0x0F, 0});
        decoder.accept(out, 0, e.command(c, out, 0));
        expected.onCommand(c);
        Reply r = new Reply(Command.SET_RATE, 200, Reply.OK, new byte[] {-1, 0});
        decoder.accept(out, 0, e.reply(r, out, 0));
        expected.onReply(r);
        decoder.accept(out, 0, e.ping(65535, out, 0));
        expected.onPing(65535);
        decoder.accept(out, 0, e.pong(3, 0xFFFF_FFFEL, 4, out, 0));
        expected.onPong(3, 0xFFFF_FFFEL, 4);

        assertEquals(String.join("\n", expected.lines), String.join("\n", seen.lines));
        DecoderCounters counters = decoder.counters();
        assertEquals(counters.bytes, counters.messageBytes);
        assertEquals(8, counters.messages);
    }
}
