package io.heldmark.protocol;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.sun.management.ThreadMXBean;
import java.lang.management.ManagementFactory;
import java.util.function.Function;
import org.junit.jupiter.api.Test;

/** Counts the bytes that the sample path allocates; no time is measured. */
class AllocationTest {
    private static final int FRAMES = 1_000_000;
    private static final int WARM_UP = 50_000;
    /** Under a hundredth of a byte per frame: what the counting itself and a one-off of the JVM may cost. */
    private static final long ALLOWED_BYTES = 10_000;

    private final ThreadMXBean threads = (ThreadMXBean) ManagementFactory.getThreadMXBean();
    private final int[] counts = new int[16];
    private final byte[] out = new byte[Wire.MAX_MESSAGE_BYTES];
    private long sum;
    private int sequence;

    /** Reads every count, as a station does. */
    private final MessageHandler reader = new MessageHandler() {
        @Override
        public void onSamples(SamplesView s) {
            for (int sample = 0; sample < s.sampleCount(); sample++) {
                for (int position = 0; position < s.channelCount(); position++) {
                    sum += s.counts(sample, position) + s.tick() + s.status();
                }
            }
        }
    };

    @Test
    void shouldAllocateNothingPerFrameOfTheByteStream() {
        assertAllocatesNothing(new ByteStreamEncoder(), ByteStreamDecoder::new, 8);
    }

    @Test
    void shouldAllocateNothingPerTextLine() {
        assertAllocatesNothing(new TextEncoder(), TextDecoder::new, 1);
    }

    @Test
    void shouldAllocateNothingPerGattValue() {
        assertAllocatesNothing(new GattEncoder(), GattDecoder::new, 8);
    }

    @Test
    void shouldAllocateNothingThroughTheAutoDecoderOnceItHasDecided() {
        assertAllocatesNothing(new ByteStreamEncoder(), AutoDecoder::new, 8);
    }

    private void assertAllocatesNothing(
            MessageEncoder encoder, Function<MessageHandler, StreamDecoder> decoderOf, int samples) {
        StreamDecoder decoder = decoderOf.apply(reader);
        run(encoder, decoder, samples, WARM_UP);
        long before = threads.getCurrentThreadAllocatedBytes();
        run(encoder, decoder, samples, FRAMES);
        long allocated = threads.getCurrentThreadAllocatedBytes() - before;
        assertEquals(WARM_UP + FRAMES, decoder.counters().sampleFrames);
        assertTrue(sum != 0);
        assertTrue(allocated < ALLOWED_BYTES, FRAMES + " frames allocated " + allocated + " bytes");
    }

    private void run(MessageEncoder encoder, StreamDecoder decoder, int samples, int frames) {
        for (int i = 0; i < frames; i++) {
            sequence = (sequence + 1) & 0xFFFF;
            for (int k = 0; k < counts.length; k++) {
                counts[k] = (i * 31 + k * 7919) % 8_000_000 - 4_000_000;
            }
            int length = encoder.samples(sequence, i * 1000L & 0xFFFF_FFFFL, 0, 3, samples, counts, 0, 3, out, 0);
            decoder.accept(out, 0, length);
        }
    }
}
