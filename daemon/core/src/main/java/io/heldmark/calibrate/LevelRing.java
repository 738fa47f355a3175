package io.heldmark.calibrate;

/**
 * The newest levels of one channel, looked up by time: between two samples on the straight line, never beyond the newest.
 *
 * <p>A gap is remembered with the sample after it. Times increase strictly. Single writer; nothing is allocated after
 * construction.
 */
final class LevelRing {
    private final long[] timeNs;
    private final double[] levelN;
    private final boolean[] broken;
    private long next;
    private long cursor;

    LevelRing(int capacity) {
        timeNs = new long[capacity];
        levelN = new double[capacity];
        broken = new boolean[capacity];
    }

    /** Adds a sample; {@code afterGap} where something is missing between it and the one before. */
    void add(long atNs, double level, boolean afterGap) {
        int slot = slot(next);
        timeNs[slot] = atNs;
        levelN[slot] = level;
        broken[slot] = afterGap;
        next++;
        cursor = Math.max(cursor, next - timeNs.length);
    }

    /** Returns the time of the newest sample; the lowest number before the first. */
    long newestNs() {
        return next == 0 ? Long.MIN_VALUE : timeNs[slot(next - 1)];
    }

    /**
     * Returns the level at a time from the oldest to the newest, asked for in rising order; NaN across a gap.
     */
    double at(long atNs) {
        while (cursor < next - 1 && timeNs[slot(cursor + 1)] <= atNs) {
            cursor++;
        }
        int left = slot(cursor);
        if (timeNs[left] == atNs || cursor == next - 1) {
            return timeNs[left] == atNs ? levelN[left] : Double.NaN;
        }
        int right = slot(cursor + 1);
        if (broken[right] || timeNs[left] > atNs) {
            return Double.NaN;
        }
        double share = (double) (atNs - timeNs[left]) / (timeNs[right] - timeNs[left]);
        return levelN[left] + share * (levelN[right] - levelN[left]);
    }

    private int slot(long index) {
        return (int) (index % timeNs.length);
    }
}
