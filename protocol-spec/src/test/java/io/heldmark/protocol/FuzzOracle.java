package io.heldmark.protocol;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.function.Function;

/**
 * What must hold for any input: nothing throws, every byte is accounted for, cuts mean nothing, and what was decoded can
 * be encoded, decodes to the same, and encodes to the same again.
 */
final class FuzzOracle {
    private FuzzOracle() {}

    /** Checks a decoder of a stream on bytes that may be cut anywhere. */
    static void checkStream(Function<MessageHandler, StreamDecoder> decoderOf, MessageEncoder encoder, byte[] data) {
        checkCuts(decoderOf, data);
        checkValues(decoderOf, encoder, List.of(data));
    }

    /** Checks that cuts mean nothing and every byte is accounted for. */
    static void checkCuts(Function<MessageHandler, StreamDecoder> decoderOf, byte[] data) {
        Transcript whole = new Transcript();
        StreamDecoder one = decoderOf.apply(whole);
        one.accept(data, 0, data.length);
        Transcript cut = new Transcript();
        StreamDecoder many = decoderOf.apply(cut);
        int step = 1 + Math.floorMod(Arrays.hashCode(data), 13);
        for (int at = 0; at < data.length; at += step) {
            many.accept(data, at, Math.min(step, data.length - at));
        }
        assertEquals(whole.lines, cut.lines);
        assertEquals(Counters.of(one), Counters.of(many));
        checkAccount(one);
    }

    /** Checks a decoder of whole values. */
    static void checkValues(
            Function<MessageHandler, StreamDecoder> decoderOf, MessageEncoder encoder, List<byte[]> values) {
        Rewriter seen = new Rewriter(encoder);
        StreamDecoder decoder = decoderOf.apply(seen);
        values.forEach(v -> decoder.accept(v, 0, v.length));
        checkAccount(decoder);
        checkRewriting(decoderOf, encoder, seen);
    }

    private static void checkAccount(StreamDecoder decoder) {
        decoder.reset();
        DecoderCounters c = decoder.counters();
        assertEquals(c.bytes, c.messageBytes + c.skippedBytes + c.idleBytes);
    }

    private static void checkRewriting(
            Function<MessageHandler, StreamDecoder> decoderOf, MessageEncoder encoder, Rewriter first) {
        Rewriter second = new Rewriter(encoder);
        StreamDecoder decoder = decoderOf.apply(second);
        first.written.forEach(w -> decoder.accept(w, 0, w.length));
        List<String> known =
                first.seen.lines.stream().filter(l -> !l.startsWith("unknown")).toList();
        assertEquals(known, second.seen.lines);
        assertEquals(first.written.size(), second.written.size());
        for (int i = 0; i < first.written.size(); i++) {
            assertArrayEquals(first.written.get(i), second.written.get(i));
        }
        assertEquals(decoder.counters().bytes, decoder.counters().messageBytes);
    }

    /** Keeps what it is handed and encodes it at once. */
    private static final class Rewriter implements MessageHandler {
        private final Transcript seen = new Transcript();
        private final List<byte[]> written = new ArrayList<>();
        private final MessageEncoder encoder;
        private final byte[] out = new byte[Wire.MAX_MESSAGE_BYTES];

        Rewriter(MessageEncoder encoder) {
            this.encoder = encoder;
        }

        private void keep(int length) {
            written.add(Arrays.copyOf(out, length));
        }

        @Override
        public void onSamples(SamplesView s) {
            seen.onSamples(s);
            int[] counts = new int[s.sampleCount() * s.channelCount()];
            int width = 3;
            for (int i = 0; i < counts.length; i++) {
                counts[i] = s.counts(i / s.channelCount(), i % s.channelCount());
                width = counts[i] == (counts[i] << 8) >> 8 ? width : 4;
            }
            keep(encoder.samples(
                    s.sequence(), s.tick(), s.status(), s.channelMask(), s.sampleCount(), counts, 0, width, out, 0));
        }

        @Override
        public void onDescribe(Describe describe) {
            seen.onDescribe(describe);
            keep(encoder.describe(describe, out, 0));
        }

        @Override
        public void onStatus(Status status) {
            seen.onStatus(status);
            keep(encoder.status(status, out, 0));
        }

        @Override
        public void onCommand(Command command) {
            seen.onCommand(command);
            keep(encoder.command(command, out, 0));
        }

        @Override
        public void onReply(Reply reply) {
            seen.onReply(reply);
            keep(encoder.reply(reply, out, 0));
        }

        @Override
        public void onPing(int pingId) {
            seen.onPing(pingId);
            keep(encoder.ping(pingId, out, 0));
        }

        @Override
        public void onPong(int pingId, long receivedTick, long transmittedTick) {
            seen.onPong(pingId, receivedTick, transmittedTick);
            keep(encoder.pong(pingId, receivedTick, transmittedTick, out, 0));
        }

        @Override
        public void onUnknown(int type, int length) {
            seen.onUnknown(type, length);
        }
    }
}
