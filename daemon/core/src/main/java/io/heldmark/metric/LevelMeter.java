package io.heldmark.metric;

import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Quantity;
import io.heldmark.model.SampleBatch;
import io.heldmark.model.ZeroReference;
import org.jspecify.annotations.Nullable;

/**
 * What a channel reads now: the mean of the last 100 ms, with its device uncertainty.
 *
 * <p><b>Formula.</b> Mean of the samples of the 100 ms before the newest; uncertainty by {@link DeviceUncertainty} with
 * the noise taken as the scatter of the same samples about their straight line, all taken as independent. While force
 * changes the mean lags by 50 ms.
 *
 * <p><b>Degenerate.</b> Without samples, or when the newest is older than 500 ms, there is no level. A gap empties it.
 *
 * <p><b>Cost.</b> O(1) per sample; nothing is allocated but the answer.
 */
public final class LevelMeter {
    private static final long SPAN_NS = 100_000_000L;
    private static final long STALE_NS = 500_000_000L;

    private final ChannelInfo channel;
    private final long[] timeNs;
    private final double[] forceN;
    private int newest = -1;
    private int held;
    private ZeroReference zero = ZeroReference.NONE;

    /** Makes an empty meter for a channel. */
    public LevelMeter(ChannelInfo channel) {
        this.channel = channel;
        int capacity = (int) Math.ceil(channel.sampleRateHz() * SPAN_NS * 1e-9 * 1.5) + 2;
        timeNs = new long[capacity];
        forceN = new double[capacity];
    }

    /** Takes a new session zero; what was held is forgotten, for it refers to the old one. */
    public void setZero(ZeroReference taken) {
        zero = taken;
        held = 0;
    }

    /** Takes a batch of the channel. */
    public void onBatch(SampleBatch batch) {
        if (batch.has(SampleBatch.GAP_BEFORE)) {
            held = 0;
        }
        for (int i = 0; i < batch.count; i++) {
            newest = (newest + 1) % timeNs.length;
            held = Math.min(held + 1, timeNs.length);
            timeNs[newest] = batch.timeNs[i];
            forceN[newest] = batch.forceN[i];
        }
    }

    /** Returns the level now; absent where there are no fresh samples. */
    public @Nullable Quantity level(long nowNs) {
        if (held == 0 || nowNs - timeNs[newest] > STALE_NS) {
            return null;
        }
        int n = 0;
        double sum = 0;
        while (n < held && timeNs[newest] - timeNs[back(n)] < SPAN_NS) {
            sum += forceN[back(n)];
            n++;
        }
        double mean = sum / n;
        DeviceUncertainty uncertainty = DeviceUncertainty.of(channel, zero, nowNs);
        double independent = uncertainty.independentSamples(n, 1, n / channel.sampleRateHz());
        return new Quantity(mean, uncertainty.ofMean(mean, scatter(n, mean), independent), channel.unit());
    }

    /** Standard deviation of the newest n samples about their straight line; 0 for fewer than three. */
    private double scatter(int n, double mean) {
        if (n < 3) {
            return 0;
        }
        double middle = (n - 1) / 2.0;
        double xy = 0;
        double xx = 0;
        double yy = 0;
        for (int k = 0; k < n; k++) {
            double y = forceN[back(k)] - mean;
            xy += (k - middle) * y;
            xx += (k - middle) * (k - middle);
            yy += y * y;
        }
        return Math.sqrt(Math.max(0, yy - xy * xy / xx) / (n - 2));
    }

    private int back(int n) {
        int i = newest - n;
        return i < 0 ? i + timeNs.length : i;
    }
}
