package io.heldmark.protocol;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.function.Function;
import org.junit.jupiter.api.Test;

/** Seeded properties: nothing is lost without a counter, and the cuts of the input mean nothing. */
class ConservationTest {
    private static final int SEEDS = 40;

    @Test
    void shouldCountEveryFaultOfTheByteStreamExactly() {
        for (long seed = 0; seed < SEEDS; seed++) {
            assertMatchesModel(seed, false, ByteStreamDecoder::new);
            assertMatchesModel(seed, false, AutoDecoder::new);
        }
    }

    @Test
    void shouldCountEveryFaultOfTextExactly() {
        for (long seed = 0; seed < SEEDS; seed++) {
            assertMatchesModel(seed, true, TextDecoder::new);
            assertMatchesModel(seed, true, AutoDecoder::new);
        }
    }

    private static void assertMatchesModel(long seed, boolean text, Function<MessageHandler, StreamDecoder> decoderOf) {
        FaultModel model = new FaultModel(seed, text).run(2000);
        List<Integer> taken = new ArrayList<>();
        StreamDecoder decoder = decoderOf.apply(new MessageHandler() {
            @Override
            public void onSamples(SamplesView samples) {
                taken.add(samples.sequence());
            }
        });
        feedInPieces(decoder, model.stream.toByteArray(), new Random(seed));
        assertEquals(model.expected, Counters.of(decoder), "seed " + seed);
        assertEquals(model.taken, taken, "seed " + seed);
    }

    @Test
    void shouldAccountForEveryByteOfNoise() {
        for (long seed = 0; seed < SEEDS; seed++) {
            Random random = new Random(seed);
            byte[] noise = noise(random);
            assertAccounts(new ByteStreamDecoder(new MessageHandler() {}), noise, Wire.MAX_STUFFED_BYTES, seed);
            assertAccounts(new TextDecoder(new MessageHandler() {}), noise, Wire.MAX_MESSAGE_BYTES, seed);
            assertAccounts(new AutoDecoder(new MessageHandler() {}), noise, 2 * Wire.MAX_MESSAGE_BYTES, seed);
            assertAccounts(new GattDecoder(new MessageHandler() {}), noise, 0, seed);
        }
    }

    /** Feeds in pieces; at every cut the bytes not yet accounted for are a frame in the making at most. */
    private static void assertAccounts(StreamDecoder decoder, byte[] bytes, int mostPending, long seed) {
        Random random = new Random(seed);
        DecoderCounters c = decoder.counters();
        int at = 0;
        while (at < bytes.length) {
            int piece = Math.min(1 + random.nextInt(700), bytes.length - at);
            decoder.accept(bytes, at, piece);
            at += piece;
            long pending = c.bytes - c.messageBytes - c.skippedBytes - c.idleBytes;
            assertEquals(at, c.bytes);
            assertTrue(pending >= 0 && pending <= mostPending, "seed " + seed + ", pending " + pending);
        }
        decoder.reset();
        assertEquals(c.bytes, c.messageBytes + c.skippedBytes + c.idleBytes, "seed " + seed);
    }

    @Test
    void shouldGiveTheSameWhereverNoiseAndFramesAreCut() {
        for (long seed = 0; seed < SEEDS; seed++) {
            byte[] bytes = noise(new Random(seed));
            assertCutsMeanNothing(ByteStreamDecoder::new, bytes, seed);
            assertCutsMeanNothing(TextDecoder::new, bytes, seed);
            assertCutsMeanNothing(AutoDecoder::new, bytes, seed);
        }
    }

    private static void assertCutsMeanNothing(
            Function<MessageHandler, StreamDecoder> decoderOf, byte[] bytes, long seed) {
        Transcript whole = new Transcript();
        StreamDecoder one = decoderOf.apply(whole);
        one.accept(bytes, 0, bytes.length);
        Transcript pieces = new Transcript();
        StreamDecoder many = decoderOf.apply(pieces);
        feedInPieces(many, bytes, new Random(seed + 1));
        assertEquals(whole.lines, pieces.lines, "seed " + seed);
        assertEquals(Counters.of(one), Counters.of(many), "seed " + seed);
    }

    @Test
    void shouldLoseAtMostTheFrameThatNoiseRunsInto() {
        for (long seed = 0; seed < SEEDS; seed++) {
            Random random = new Random(seed);
            byte[] noise = new byte[random.nextInt(5000)];
            random.nextBytes(noise);
            Transcript seen = new Transcript();
            ByteStreamDecoder decoder = new ByteStreamDecoder(seen);
            decoder.accept(noise, 0, noise.length);
            byte[] out = new byte[Wire.MAX_MESSAGE_BYTES];
            ByteStreamEncoder encoder = new ByteStreamEncoder();
            for (int id = 0; id < 3; id++) {
                decoder.accept(out, 0, encoder.ping(id, out, 0));
            }
            List<String> lastTwo = seen.lines.subList(seen.lines.size() - 2, seen.lines.size());
            assertEquals(List.of("ping 1", "ping 2"), lastTwo, "seed " + seed);
        }
    }

    /** Frames of both bindings and random bytes, with delimiters at every density. */
    private static byte[] noise(Random random) {
        java.io.ByteArrayOutputStream all = new java.io.ByteArrayOutputStream();
        for (int block = 0; block < 30; block++) {
            if (random.nextInt(3) == 0) {
                all.writeBytes(new FaultModel(random.nextLong(), random.nextBoolean())
                        .run(10)
                        .stream
                        .toByteArray());
            }
            byte[] bytes = new byte[random.nextInt(1500)];
            random.nextBytes(bytes);
            int density = 2 + random.nextInt(1000);
            for (int i = 0; i < bytes.length; i++) {
                bytes[i] = random.nextInt(density) == 0 ? (byte) (random.nextBoolean() ? 0 : '\n') : bytes[i];
            }
            all.writeBytes(bytes);
        }
        return all.toByteArray();
    }

    private static void feedInPieces(StreamDecoder decoder, byte[] bytes, Random random) {
        int at = 0;
        while (at < bytes.length) {
            int piece = Math.min(random.nextInt(random.nextInt(3) == 0 ? 2000 : 4), bytes.length - at);
            decoder.accept(bytes, at, piece);
            at += piece;
        }
    }
}
