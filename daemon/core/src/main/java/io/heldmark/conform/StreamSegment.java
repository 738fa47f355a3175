package io.heldmark.conform;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/** Samples messages of one rate, in order, kept for the verdicts that need all of them. */
final class StreamSegment {
    /** Enough for a minute of a message a millisecond; what comes after is not kept. */
    private static final int MOST = 60_000;

    private final List<byte[]> frames = new ArrayList<>();
    private long[] ticks = new long[256];
    private long[] arrivals = new long[256];
    private int[] counts = new int[256];
    private boolean[] cut = new boolean[256];
    private boolean[] marked = new boolean[256];

    /**
     * Adds a message.
     *
     * @param tick its tick, unwrapped.
     * @param count samples per channel.
     * @param arrivalNs when it arrived.
     * @param cutBefore whether something is missing or wrong right before it, so that its tick says nothing of its distance.
     * @param lossMarked whether its status says that the device lost samples before it.
     * @param frame a copy of its bytes.
     */
    void add(long tick, int count, long arrivalNs, boolean cutBefore, boolean lossMarked, byte[] frame) {
        int at = frames.size();
        if (at == MOST) {
            return;
        }
        if (at == ticks.length) {
            ticks = Arrays.copyOf(ticks, 2 * at);
            arrivals = Arrays.copyOf(arrivals, 2 * at);
            counts = Arrays.copyOf(counts, 2 * at);
            cut = Arrays.copyOf(cut, 2 * at);
            marked = Arrays.copyOf(marked, 2 * at);
        }
        ticks[at] = tick;
        arrivals[at] = arrivalNs;
        counts[at] = count;
        cut[at] = cutBefore || at == 0;
        marked[at] = lossMarked;
        frames.add(frame);
    }

    int size() {
        return frames.size();
    }

    long tick(int i) {
        return ticks[i];
    }

    long arrivalNs(int i) {
        return arrivals[i];
    }

    int count(int i) {
        return counts[i];
    }

    boolean isCut(int i) {
        return cut[i];
    }

    void cutBefore(int i) {
        cut[i] = true;
    }

    boolean isMarked(int i) {
        return marked[i];
    }

    int length(int i) {
        return frames.get(i).length;
    }

    Evidence evidence(int i) {
        byte[] frame = frames.get(i);
        return Evidence.of(frame, 0, frame.length, false, arrivals[i]);
    }

    /** Returns the median of ticks per sample over unbroken neighbours; 0 where there are none. */
    double ticksPerSample() {
        double[] each = new double[size()];
        int n = 0;
        for (int i = 1; i < size(); i++) {
            if (!cut[i]) {
                each[n++] = (double) (ticks[i] - ticks[i - 1]) / counts[i - 1];
            }
        }
        Arrays.sort(each, 0, n);
        return n == 0 ? 0 : each[n / 2];
    }
}
