package io.heldmark.pipeline;

import io.heldmark.model.ChannelInfo;
import io.heldmark.model.SampleBatch;
import java.util.Locale;

/**
 * Tells when a channel carries more than the rig is rated for, weight of the resting limb and whatever else was there before the
 * zero included. Told once; again after the load has been below {@value #REARM_SHARE} of the rating for a second.
 *
 * <p>Driven by samples alone; nothing is allocated but where it tells.
 */
final class LoadWatch {
    private static final double REARM_SHARE = 0.9;
    private static final long REARM_NS = 1_000_000_000L;

    private final ChannelInfo info;
    private final double ratedN;
    private final StationListener out;
    private boolean told;
    private long highNs;

    /**
     * Makes it.
     *
     * @param info the channel.
     * @param ratedN what the rig is rated for, in newtons; 0 where nothing is said.
     * @param out takes the notice.
     */
    LoadWatch(ChannelInfo info, double ratedN, StationListener out) {
        this.info = info;
        this.ratedN = info.unit().equals("N") ? ratedN : 0;
        this.out = out;
    }

    /** Takes samples and what has been subtracted from them. */
    void onBatch(SampleBatch samples, double sessionZeroN) {
        if (ratedN <= 0) {
            return;
        }
        for (int i = 0; i < samples.count; i++) {
            double loadN = Math.abs(samples.forceN[i] + sessionZeroN);
            long atNs = samples.timeNs[i];
            if (loadN > ratedN && !told) {
                told = true;
                out.onNotice("warning", text(loadN), atNs);
            }
            if (loadN > REARM_SHARE * ratedN) {
                highNs = atNs;
            } else if (atNs - highNs > REARM_NS) {
                told = false;
            }
        }
    }

    private String text(double loadN) {
        return String.format(
                Locale.ROOT,
                "%s: %.0f N is more than the rig is rated for (%.0f N); stop, unload it, and check its zero and its parts",
                info.name(),
                loadN,
                ratedN);
    }
}
