package io.heldmark.cell;

import io.heldmark.model.ChannelInfo;
import org.HdrHistogram.Histogram;
import org.jspecify.annotations.Nullable;

/**
 * Keeps what the diagnosis of one cell needs: the newest counts, a mean a second for half an hour, and how messages arrive.
 *
 * <p><b>Cost.</b> O(1) per sample; nothing allocated per sample or message.
 *
 * <p><b>Threading.</b> One thread feeds; {@link #report} may be called from any and holds the feeder up for as long as
 * copying the newest counts takes.
 */
public final class CellMonitor {
    /** Length of the stretch that noise and spectrum are taken from, in seconds. */
    static final double STRETCH_S = 8;
    /** Means that are kept, one a second. */
    static final int MEANS = 1800;

    private static final int MOST_SAMPLES = 1 << 16;
    private static final long LOWEST_NS = 10_000;
    private static final long HIGHEST_NS = 60_000_000_000L;
    private static final int DIGITS = 2;

    private final ChannelInfo channel;
    private final int[] newest;
    private final double[] means = new double[MEANS];
    private final Histogram intervals = new Histogram(LOWEST_NS, HIGHEST_NS, DIGITS);
    private final Histogram delays = new Histogram(LOWEST_NS, HIGHEST_NS, DIGITS);
    private long samples;
    private long messages;
    private long sinceGap;
    private long overloaded;
    private long overloadedUpTo;
    private int lowest = Integer.MAX_VALUE;
    private int highest = Integer.MIN_VALUE;
    private long seconds;
    private double secondSum;
    private int inSecond;
    private final int perSecond;
    private long lastArrivalNs = Long.MIN_VALUE;

    /** Makes the monitor of a channel. */
    public CellMonitor(ChannelInfo channel) {
        this.channel = channel;
        int wanted = (int) Math.ceil(STRETCH_S * channel.sampleRateHz());
        newest = new int[Math.min(MOST_SAMPLES, Math.max(64, wanted))];
        perSecond = (int) Math.max(1, Math.round(channel.sampleRateHz()));
    }

    /** Returns the channel. */
    public ChannelInfo channel() {
        return channel;
    }

    /**
     * Begins a message.
     *
     * @param arrivalNs its arrival, station time.
     * @param newestNs time of its newest sample, station time.
     * @param gapBefore whether samples are missing before it.
     * @param overload whether the converter reached the end of its range within it.
     * @param sampleCount samples in it.
     */
    public synchronized void beginMessage(
            long arrivalNs, long newestNs, boolean gapBefore, boolean overload, int sampleCount) {
        if (gapBefore) {
            sinceGap = 0;
        }
        if (lastArrivalNs != Long.MIN_VALUE) {
            intervals.recordValue(within(arrivalNs - lastArrivalNs));
        }
        delays.recordValue(within(arrivalNs - newestNs));
        lastArrivalNs = arrivalNs;
        messages++;
        if (overload) {
            overloaded += sampleCount;
            overloadedUpTo = samples + sampleCount;
        }
    }

    /**
     * Takes samples of the message.
     *
     * @param counts where they stand.
     * @param first index of the first.
     * @param step distance from one to the next.
     * @param n how many.
     */
    public synchronized void addAll(int[] counts, int first, int step, int n) {
        for (int i = 0; i < n; i++) {
            take(counts[first + i * step]);
        }
    }

    /** Takes the next sample of the message. */
    public synchronized void add(int counts) {
        take(counts);
    }

    private void take(int counts) {
        newest[(int) (samples % newest.length)] = counts;
        samples++;
        sinceGap++;
        lowest = Math.min(lowest, counts);
        highest = Math.max(highest, counts);
        secondSum += counts;
        inSecond++;
        if (inSecond == perSecond) {
            means[(int) (seconds % MEANS)] = secondSum / perSecond;
            seconds++;
            secondSum = 0;
            inSecond = 0;
        }
    }

    /** Takes note that the link is down: the time until it is up again is no interval. */
    public synchronized void linkDown() {
        lastArrivalNs = Long.MIN_VALUE;
        sinceGap = 0;
    }

    /** Returns what can be said of the cell now. */
    public CellReport report() {
        double[] stretch;
        double[] drift;
        CellReport.Arrivals arrivals;
        CellReport.Range range;
        synchronized (this) {
            stretch = copyStretch(newest.length);
            drift = copyMeans();
            arrivals = new CellReport.Arrivals(messages, Distribution.of(intervals), Distribution.of(delays));
            range = samples == 0
                    ? CellReport.Range.NONE
                    : new CellReport.Range(
                            samples, newest[(int) ((samples - 1) % newest.length)], lowest, highest, overloaded);
        }
        return CellReport.of(channel, stretch, drift, range, arrivals);
    }

    /**
     * Returns the newest stretch and whether it stands still; absent while there are not as many samples since the last gap.
     *
     * @param seconds its length, at most {@value #STRETCH_S}.
     * @param toleranceCounts movement that does not matter; NaN where unknown.
     */
    public @Nullable SteadyLevel level(double seconds, double toleranceCounts) {
        double rateHz = channel.sampleRateHz();
        int n = (int) Math.min(newest.length, Math.max(SteadyLevel.fewest(), Math.round(seconds * rateHz)));
        double[] stretch;
        double[] means;
        boolean overload;
        synchronized (this) {
            if (sinceGap < n) {
                return null;
            }
            stretch = copyStretch(n);
            means = copyMeans();
            overload = overloadedUpTo > samples - n;
        }
        return SteadyLevel.of(stretch, rateHz, means, toleranceCounts, overload);
    }

    private double[] copyStretch(long most) {
        int n = (int) Math.min(Math.min(sinceGap, samples), Math.min(most, newest.length));
        double[] out = new double[n];
        for (int i = 0; i < n; i++) {
            out[i] = newest[(int) ((samples - n + i) % newest.length)];
        }
        return out;
    }

    private double[] copyMeans() {
        int n = (int) Math.min(seconds, MEANS);
        double[] out = new double[n];
        for (int i = 0; i < n; i++) {
            out[i] = means[(int) ((seconds - n + i) % MEANS)];
        }
        return out;
    }

    private static long within(long ns) {
        return Math.min(HIGHEST_NS, Math.max(0, ns));
    }
}
