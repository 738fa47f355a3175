package io.heldmark.benchmark;

import io.heldmark.protocol.ByteStreamDecoder;
import io.heldmark.protocol.ByteStreamEncoder;
import io.heldmark.protocol.MessageHandler;
import io.heldmark.protocol.SamplesView;
import java.util.SplittableRandom;
import java.util.concurrent.TimeUnit;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OperationsPerInvocation;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;

/** Bytes of one cell to counts: frames of ten 24-bit samples, in reads of 64 bytes. The unit is samples. */
@State(Scope.Thread)
@BenchmarkMode(Mode.Throughput)
@OutputTimeUnit(TimeUnit.SECONDS)
public class DecodeBenchmark {
    private static final int SAMPLES = 100_000;
    private static final int SAMPLES_PER_FRAME = 10;
    private static final int READ_BYTES = 64;

    private byte[] stream = new byte[0];
    private int length;
    private long sum;

    /** Makes the bytes once. */
    @Setup
    public void makeStream() {
        stream = new byte[SAMPLES * 8];
        int[] counts = new int[SAMPLES_PER_FRAME];
        SplittableRandom random = new SplittableRandom(1);
        ByteStreamEncoder encoder = new ByteStreamEncoder();
        for (int frame = 0; frame < SAMPLES / SAMPLES_PER_FRAME; frame++) {
            for (int i = 0; i < counts.length; i++) {
                counts[i] = random.nextInt(-(1 << 23), 1 << 23);
            }
            long tick = frame * 10_000L & 0xFFFF_FFFFL;
            length += encoder.samples(frame & 0xFFFF, tick, 0, 1, SAMPLES_PER_FRAME, counts, 0, 3, stream, length);
        }
    }

    /** Decodes every byte and adds up every count. */
    @Benchmark
    @OperationsPerInvocation(SAMPLES)
    public long decode() {
        sum = 0;
        ByteStreamDecoder decoder = new ByteStreamDecoder(new MessageHandler() {
            @Override
            public void onSamples(SamplesView samples) {
                for (int i = 0; i < samples.sampleCount(); i++) {
                    sum += samples.counts(i, 0);
                }
            }
        });
        for (int offset = 0; offset < length; offset += READ_BYTES) {
            decoder.accept(stream, offset, Math.min(READ_BYTES, length - offset));
        }
        return sum;
    }
}
