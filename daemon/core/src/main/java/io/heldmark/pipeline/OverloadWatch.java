package io.heldmark.pipeline;

import io.heldmark.model.CellOverload;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.SampleBatch;
import java.util.Locale;

/**
 * Watches whether a cell carries more than it is rated for, whatever was zeroed.
 *
 * <p>An overload begins with the first sample above the rated load and ends once the load has been below {@value #REARM_SHARE} of
 * it for a second. It is told when it begins, once a second while its peak grows, and when it ends with a larger peak than was told.
 *
 * <p>Driven by samples alone; nothing is allocated but where it tells.
 */
final class OverloadWatch {
    private static final double REARM_SHARE = 0.9;
    private static final long SECOND_NS = 1_000_000_000L;

    private final ChannelInfo info;
    private final double ratedN;
    private final StationListener out;
    private boolean over;
    private boolean atLeast;
    private long sinceNs;
    private long highNs;
    private long toldNs;
    private double peakN;
    private double toldN;

    OverloadWatch(ChannelInfo info, StationListener out) {
        this.info = info;
        this.ratedN = info.unit().equals("N") ? info.ratedLoadN() : 0;
        this.out = out;
    }

    /** Takes samples and what has been subtracted from them. */
    void onBatch(SampleBatch samples, double sessionZeroN) {
        if (!(ratedN > 0)) {
            return;
        }
        for (int i = 0; i < samples.count; i++) {
            double loadN = Math.abs(samples.forceN[i] + sessionZeroN);
            if (over || loadN > ratedN) {
                onLoad(loadN, samples.timeNs[i], (samples.flags & SampleBatch.OVERLOAD) != 0);
            }
        }
    }

    /** Tells what is not told yet: nothing more will come. */
    void end() {
        if (over && peakN > toldN) {
            tell(highNs);
        }
        over = false;
    }

    private void onLoad(double loadN, long atNs, boolean saturated) {
        if (!over) {
            over = true;
            atLeast = false;
            sinceNs = atNs;
            peakN = 0;
            toldN = 0;
        }
        peakN = Math.max(peakN, loadN);
        atLeast |= saturated;
        if (loadN > REARM_SHARE * ratedN) {
            highNs = atNs;
        }
        if (toldN == 0) {
            tell(atNs);
            out.onNotice("warning", text(), atNs);
        } else if (peakN > toldN && atNs - toldNs > SECOND_NS) {
            tell(atNs);
        }
        if (atNs - highNs > SECOND_NS) {
            end();
        }
    }

    private void tell(long atNs) {
        toldN = peakN;
        toldNs = atNs;
        out.onOverload(new CellOverload(info.channel(), sinceNs, peakN, ratedN, atLeast));
    }

    private String text() {
        return String.format(
                Locale.ROOT,
                "%s: its cell carries %.0f N and is rated for %.0f N; stop, unload it, and check it with a known mass",
                info.name(),
                peakN,
                ratedN);
    }
}
