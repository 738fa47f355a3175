package io.heldmark.live;

import io.heldmark.model.SampleBatch;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.util.ArrayList;
import java.util.List;

/** Batches of a trace whose values are running numbers, and blocks read back from messages. */
final class Batches {
    /** One block of a binary message. */
    record Block(int kind, int channel, long t0Ns, double periodNs, List<Float> values) {}

    private final int channel;
    private final long periodNs;
    private long nextNs;
    private int running;

    Batches(int channel, double sampleRateHz) {
        this.channel = channel;
        periodNs = Math.round(1e9 / sampleRateHz);
    }

    /** Returns the next batch. */
    SampleBatch next(int count, int flags) {
        SampleBatch batch = new SampleBatch(Math.max(1, count));
        batch.channel = channel;
        batch.count = count;
        batch.flags = flags;
        batch.periodNs = periodNs;
        for (int i = 0; i < count; i++) {
            batch.timeNs[i] = nextNs;
            batch.forceN[i] = running++;
            nextNs += periodNs;
        }
        return batch;
    }

    SampleBatch next(int count) {
        return next(count, 0);
    }

    /** Leaves out time, as where samples are missing. */
    void pass(long ns) {
        nextNs += ns;
    }

    /** Reads a message as {@code docs/live-protocol.md} says. */
    static List<Block> blocks(ByteBuffer message) {
        ByteBuffer in = message.duplicate().order(ByteOrder.LITTLE_ENDIAN);
        List<Block> blocks = new ArrayList<>();
        while (in.hasRemaining()) {
            if (in.get() != 1) {
                throw new AssertionError("version");
            }
            int kind = in.get();
            int channel = in.getShort();
            int count = in.getInt();
            long t0Ns = in.getLong();
            double periodNs = in.getDouble();
            List<Float> values = new ArrayList<>();
            for (int i = 0; i < count * kind; i++) {
                values.add(in.getFloat());
            }
            blocks.add(new Block(kind, channel, t0Ns, periodNs, values));
        }
        return blocks;
    }
}
