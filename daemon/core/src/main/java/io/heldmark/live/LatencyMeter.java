package io.heldmark.live;

import org.HdrHistogram.Histogram;
import org.HdrHistogram.Recorder;
import org.jspecify.annotations.Nullable;

/**
 * A latency as a histogram: of the last interval, and of the whole session.
 *
 * <p>Two significant digits from 1 us to 1 hour; what lies outside is recorded at the end of the range. Recording waits
 * for nobody; any thread may record.
 */
public final class LatencyMeter {
    private static final long LOWEST_NS = 1_000;
    private static final long HIGHEST_NS = 3_600_000_000_000L;
    private static final int DIGITS = 2;

    private final Recorder recorder = new Recorder(LOWEST_NS, HIGHEST_NS, DIGITS);
    private final Histogram total = new Histogram(LOWEST_NS, HIGHEST_NS, DIGITS);
    private @Nullable Histogram interval;

    LatencyMeter() {}

    /** Records one latency, in nanoseconds. */
    void record(long latencyNs) {
        recorder.recordValue(Math.min(HIGHEST_NS, Math.max(0, latencyNs)));
    }

    /** Ends the interval, adds it to the total and returns it. */
    synchronized LatencySummary endInterval() {
        Histogram ended = recorder.getIntervalHistogram(interval);
        total.add(ended);
        interval = ended;
        return summary(ended);
    }

    /** Returns the latencies of the session up to the end of the last interval. */
    public synchronized LatencySummary total() {
        return summary(total);
    }

    private static LatencySummary summary(Histogram h) {
        return h.getTotalCount() == 0
                ? new LatencySummary(0, 0, 0, 0, 0, 0)
                : new LatencySummary(
                        h.getTotalCount(),
                        h.getMean(),
                        h.getValueAtPercentile(50),
                        h.getValueAtPercentile(95),
                        h.getValueAtPercentile(99),
                        h.getMaxValue());
    }
}
