package io.heldmark.model;

/**
 * Where in the trace a metric was taken from, so that it can be drawn there.
 *
 * @param id the metric's id.
 * @param kind what the two ends mean.
 * @param fromNs station time of the first end.
 * @param toNs station time of the second end; equal to the first for a point.
 * @param fromN force at the first end, relative to the session zero.
 * @param toN force at the second end.
 */
public record MetricMark(String id, Kind kind, long fromNs, long toNs, double fromN, double toN) {
    /** What a mark is. */
    public enum Kind {
        /** A stretch and its mean force. */
        LEVEL,
        /** A line whose slope is the value. */
        SLOPE,
        /** One instant and its force. */
        POINT
    }

    /** Returns a stretch with its mean force. */
    public static MetricMark level(String id, long fromNs, long toNs, double meanN) {
        return new MetricMark(id, Kind.LEVEL, fromNs, toNs, meanN, meanN);
    }

    /** Returns a line whose slope is the value. */
    public static MetricMark slope(String id, long fromNs, long toNs, double fromN, double toN) {
        return new MetricMark(id, Kind.SLOPE, fromNs, toNs, fromN, toN);
    }

    /** Returns one instant. */
    public static MetricMark point(String id, long atNs, double forceN) {
        return new MetricMark(id, Kind.POINT, atNs, atNs, forceN, forceN);
    }
}
