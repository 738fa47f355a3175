package io.heldmark.detect;

import io.heldmark.model.Window;

/**
 * A copy of a stretch of trace with running sums, so that means over any span cost O(1). Times are seconds since the
 * stretch's first sample.
 */
final class Segment {
    /**
     * Arrays for one segment after another, so that not every contraction asks for new memory: a new segment takes them from the
     * one before. Very long stretches get their own.
     */
    static final class Room {
        private static final int MOST = 1 << 14;
        private long[] timeNs = {};
        private double[] forceN = {};
        private double[] sums = {0};
        private double[] smoothed = {};
        private boolean[] gapBefore = {};
        private double[] levelN = {}; // Of the stretch without a line, which is looked at beside it.
        private double[] levelSums = {0};

        private Room of(int size) {
            Room room = size <= MOST ? this : new Room();
            if (room.timeNs.length < size) {
                int length = length(size);
                room.timeNs = new long[length];
                room.forceN = new double[length];
                room.sums = new double[length + 1];
                room.smoothed = new double[length];
                room.gapBefore = new boolean[length];
            }
            return room;
        }

        private void makeLevel(int size) {
            if (levelN.length < size) {
                int length = length(size);
                levelN = new double[length];
                levelSums = new double[length + 1];
            }
        }

        private static int length(int size) {
            return size <= MOST ? Math.min(MOST, size + size / 4) : size;
        }
    }

    private final int size;
    private final long originNs;
    private final Room room;
    private final long[] timeNs;
    private final double[] forceN;
    private final double[] sums;
    private final boolean[] gapBefore;
    private final double[] smoothed;
    private int smoothedHalf = -1;

    /** Copies the positions from, inclusive, to, exclusive; at least one. */
    Segment(TraceBuffer trace, long from, long to) {
        this(trace, from, to, new Room());
    }

    /** Does the same in a room that a segment before may have used, which is void then. */
    Segment(TraceBuffer trace, long from, long to, Room used) {
        this(Math.toIntExact(to - from), trace.timeNs(from), used.of(Math.toIntExact(to - from)));
        trace.copy(from, to, timeNs, forceN, gapBefore);
        addUp();
    }

    /** Copies a window. */
    Segment(Window window) {
        this(window.size(), window.timeNs(0), new Room().of(window.size()));
        window.copyTo(timeNs, forceN, gapBefore);
        addUp();
    }

    private Segment(int size, long originNs, Room room) {
        this(size, originNs, room, room.forceN, room.sums);
    }

    private Segment(int size, long originNs, Room room, double[] forceN, double[] sums) {
        this.size = size;
        this.originNs = originNs;
        this.room = room;
        this.forceN = forceN;
        this.sums = sums;
        timeNs = room.timeNs;
        smoothed = room.smoothed;
        gapBefore = room.gapBefore;
    }

    private void addUp() {
        double sum = 0;
        for (int i = 0; i < size; i++) {
            sum += forceN[i];
            sums[i + 1] = sum;
        }
    }

    /** Works out the means within a half width for all indices, so that {@link #smoothN} need only look them up. */
    void smooth(int half) {
        int inner = Math.max(0, size - half);
        for (int i = 0; i < Math.min(half, size); i++) {
            smoothed[i] = symmetricMeanN(i, half);
        }
        differences(sums, 2 * half + 1, smoothed, half, inner - half); // As below, without looking for the ends.
        for (int i = Math.max(inner, Math.min(half, size)); i < size; i++) {
            smoothed[i] = symmetricMeanN(i, half);
        }
        smoothedHalf = half;
    }

    /** A loop with one index over plain arrays is one that a processor does side by side. */
    private static void differences(double[] sums, int width, double[] into, int at, int count) {
        double w = width;
        for (int k = 0; k < count; k++) {
            into[at + k] = (sums[width + k] - sums[k]) / w;
        }
    }

    int size() {
        return size;
    }

    /** Returns the samples per second, as the times have it. */
    double rateHz() {
        return size > 1 && timeS(size - 1) > 0 ? (size - 1) / timeS(size - 1) : 1;
    }

    double timeS(int i) {
        return (timeNs[i] - originNs) * 1e-9;
    }

    double forceN(int i) {
        return forceN[i];
    }

    boolean gapBefore(int i) {
        return gapBefore[i];
    }

    /** Returns the station time of a time of this stretch. */
    long toNs(double seconds) {
        return originNs + Math.round(seconds * 1e9);
    }

    /** Returns the time of this stretch of a station time. */
    double toS(long atNs) {
        return (atNs - originNs) * 1e-9;
    }

    /** Returns the first index at or after a time, at most the last one. */
    int indexAt(double seconds) {
        int low = 0;
        int high = size - 1;
        while (low < high) {
            int middle = (low + high) >>> 1;
            if (timeS(middle) < seconds) {
                low = middle + 1;
            } else {
                high = middle;
            }
        }
        return low;
    }

    /** Returns the mean of the indices from, inclusive, to, exclusive. */
    double meanN(int from, int to) {
        return (sums[to] - sums[from]) / (to - from);
    }

    /** Returns the mean of the samples at most {@code half} indices away, as far as there are. */
    double smoothN(int i, int half) {
        return half == smoothedHalf ? smoothed[i] : symmetricMeanN(i, half);
    }

    private double symmetricMeanN(int i, int half) {
        int reach = Math.min(half, Math.min(i, size - 1 - i)); // Symmetric, so that a slope does not shift it.
        return meanN(i - reach, i + reach + 1);
    }

    /** Returns how long samples are missing right before an index, in seconds; 0 where none are. */
    double gapS(int i) {
        return i > 0 && gapBefore(i) ? timeS(i) - timeS(i - 1) : 0;
    }

    /** Returns the last index in (from, to] with a gap before it that hides something; {@code from} where there is none. */
    int afterLastGap(int from, int to) {
        for (int i = to; i > from; i--) {
            if (gapS(i) > DetectorConfig.BRIDGED_GAP_S) {
                return i;
            }
        }
        return from;
    }

    /**
     * Returns the samples before an index with a straight line taken away that is 0 at a time. In the room of this one: valid
     * until the next is asked for.
     */
    Segment without(double slopeNPerS, double aboutS, int to) {
        room.makeLevel(to);
        double[] levelN = room.levelN;
        double[] levelSums = room.levelSums;
        double sum = 0;
        for (int i = 0; i < to; i++) {
            double heightN = forceN[i] - slopeNPerS * (timeS(i) - aboutS);
            sum += heightN;
            levelN[i] = heightN;
            levelSums[i + 1] = sum;
        }
        return new Segment(to, originNs, room, levelN, levelSums);
    }
}
