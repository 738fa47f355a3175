package io.heldmark.detect;

import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Contraction;
import io.heldmark.model.Contraction.Revision;
import io.heldmark.model.ContractionFlag;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/**
 * The contraction under way: what must be remembered of it until it is finished. Heights are newtons above the level of
 * rest at its opening, from the smoothed trace.
 */
final class OpenWindow {
    /** What a smoothed sample means for the window. */
    enum Turn {
        /** Goes on. */
        NONE,
        /** Back at rest, or nearly. */
        ENDED,
        /** Rises again from a low point that is nearly rest: the next effort. */
        NEXT_EFFORT,
        /** Stays on a low level that is not rest. */
        SETTLED
    }

    private static final double END_SHARE = 0.05;
    private static final double LOW_SHARE = 0.2;
    private static final double DIP_SHARE = 0.7;
    private static final double RECOVERY_SHARE = 0.2;
    private static final double ONWARD_SHARE = 0.25;
    private static final long SETTLED_BLOCK_NS = 200_000_000L;

    final long id;
    final long onsetNs;
    final double onsetUNs;
    final long openedNs;
    final double noiseN;
    final Set<ContractionFlag> flags = EnumSet.noneOf(ContractionFlag.class);

    private final double risesN;
    private double restN;
    private double peakN;
    private long peakNs;
    private double endN; // endHeightN() of that peak.
    private double valleyN;
    private long valleyNs;

    private long blockNs;
    private double blockSum;
    private int blockCount;
    private double lastBlockN = Double.NaN;
    private long settledNs;
    private double settledN = Double.NaN;

    /**
     * Opens a window.
     *
     * @param id its id.
     * @param onsetNs back-dated onset.
     * @param onsetUNs its standard uncertainty.
     * @param openedNs time of the sample that decided it.
     * @param restN level of rest.
     * @param noiseN noise of the smoothed trace at rest.
     * @param risesN height that counts as a rise of its own.
     */
    OpenWindow(long id, long onsetNs, double onsetUNs, long openedNs, double restN, double noiseN, double risesN) {
        this.id = id;
        this.onsetNs = onsetNs;
        this.onsetUNs = onsetUNs;
        this.openedNs = openedNs;
        this.restN = restN;
        this.noiseN = noiseN;
        this.risesN = risesN;
        blockNs = openedNs;
    }

    /** Returns the level of rest at the opening. */
    double restN() {
        return restN;
    }

    /** Refers the level to a session zero that lies higher. */
    void shiftZero(double shiftN) {
        restN -= shiftN;
    }

    double peakN() {
        return peakN;
    }

    long meanPeakNs() {
        return peakNs;
    }

    /** Returns the time of the lowest point since the peak. */
    long valleyNs() {
        return valleyNs;
    }

    /** Returns when the force came to the level on which it settled. */
    long settledNs() {
        return settledNs;
    }

    /** Returns the height on which the force settled; NaN where it did not. */
    double settledN() {
        return settledN;
    }

    /** Returns the height above which the force goes on after it was back at rest, or nearly. */
    double onwardN(double thresholdN) {
        return Math.max(ONWARD_SHARE * peakN, thresholdN);
    }

    /** Returns the height below which the force counts as back at rest. */
    private double endHeightN() {
        return Math.max(END_SHARE * peakN, Math.min(3 * noiseN, LOW_SHARE * peakN));
    }

    /**
     * Returns what is told of it.
     *
     * @param revision the revision.
     * @param channel the channel.
     * @param told the flags to tell.
     * @param bounds refined boundaries; null where there are none.
     * @param timeU standard uncertainty of the channel's time, in nanoseconds.
     */
    Contraction told(
            Revision revision,
            ChannelInfo channel,
            Set<ContractionFlag> told,
            TraceWindow.@Nullable Bounds bounds,
            double timeU) {
        Contraction contraction = new Contraction(
                id,
                revision,
                channel.channel(),
                channel.limb(),
                bounds == null ? onsetNs : bounds.onsetNs(),
                bounds == null ? Double.NaN : StrictMath.hypot(bounds.onsetU(), timeU),
                bounds == null ? 0 : bounds.releaseStartNs(),
                bounds == null ? 0 : bounds.offsetNs(),
                bounds == null ? restN : bounds.restingLevelN(),
                ContractionFlag.ids(told),
                List.of());
        return bounds == null ? contraction : bounds.endingOf(contraction, timeU);
    }

    /** Takes a smoothed sample. */
    Turn next(long nowNs, double meanN) {
        double height = meanN - restN;
        if (height > peakN) {
            recover(height);
            peakN = height;
            peakNs = nowNs;
            endN = endHeightN();
            valleyN = height;
            valleyNs = nowNs;
        } else if (height < valleyN) {
            valleyN = height;
            valleyNs = nowNs;
        } else if (recover(height)) {
            return Turn.NEXT_EFFORT;
        }
        if (height < endN) {
            return Turn.ENDED;
        }
        return settled(nowNs, height) ? Turn.SETTLED : Turn.NONE;
    }

    /**
     * Returns the height that smoothed samples must be above for nothing to come of them as long as none is above another one,
     * which is at least the peak: neither an end, nor a next effort, nor settling. Infinite where that cannot be said.
     */
    double quietAboveN(double mostN) {
        double lowN = LOW_SHARE * mostN;
        return valleyN < lowN || lastBlockN < lowN ? Double.POSITIVE_INFINITY : lowN;
    }

    /**
     * Takes smoothed samples like {@link #next}, one after the other, where it is known that nothing comes of them, or of no
     * interest.
     *
     * @param raw the ring of samples, without a gap as far back as these means.
     * @param means the ring of smoothed ones, of which all are there.
     * @param from the first one to take.
     */
    void follow(TraceBuffer raw, TraceBuffer means, long from) {
        long later = raw.end() - means.end(); // A mean is taken at the time of its newest sample.
        long p = from;
        while (p < means.end()) {
            p = followPlain(raw, later, means, p);
            if (p < means.end()) {
                next(raw.timeNs(p + later), means.forceN(p));
                p++;
            }
        }
    }

    /**
     * Takes them until one recovers after a dip, ends a block or is low after a new peak, and returns which: in local variables,
     * which need not go through memory each time.
     */
    private long followPlain(TraceBuffer raw, long later, TraceBuffer means, long from) {
        double[] ring = means.forceRing();
        int at = (int) from;
        int count = (int) (means.end() - from);
        long blockEnd = raw.positionAtOrAfter(blockNs + SETTLED_BLOCK_NS) - later - from;
        int peakAt = -1;
        int valleyAt = -1;
        double peak = peakN;
        double valley = valleyN;
        double dip = DIP_SHARE * peak;
        double recovery = recoveryN();
        double unknown = Double.NEGATIVE_INFINITY; // Below it endN would have to be worked out.
        double sum = blockSum;
        int summed = blockCount;
        int k = 0;
        for (; k < count; k++) {
            double height = ring[(at + k) & (ring.length - 1)] - restN;
            boolean away = !(height < endN);
            if (height < unknown || (away && k >= blockEnd)) {
                break;
            }
            if (height < valley) {
                valley = height;
                valleyAt = k;
            } else if (valley < dip && (height > peak || height - valley >= recovery)) {
                break;
            } else if (height > peak) {
                peak = height;
                valley = height;
                dip = DIP_SHARE * peak;
                unknown = LOW_SHARE * peak;
                peakAt = k;
                valleyAt = k;
            }
            if (away) {
                sum += height;
                summed++;
            }
        }
        blockSum = sum;
        blockCount = summed;
        remember(raw, from + later, peak, peakAt, valley, valleyAt);
        return from + k;
    }

    private void remember(TraceBuffer raw, long from, double peak, int peakAt, double valley, int valleyAt) {
        if (valleyAt >= 0) {
            valleyN = valley;
            valleyNs = raw.timeNs(from + valleyAt);
        }
        if (peakAt >= 0) {
            peakN = peak;
            peakNs = raw.timeNs(from + peakAt);
            endN = endHeightN();
        }
    }

    /** Returns the height above a low point that counts as a rise after it. */
    private double recoveryN() {
        return Math.max(RECOVERY_SHARE * peakN, risesN);
    }

    /** Notices a rise after a dip; tells whether the dip was so deep that the next effort begins. */
    private boolean recover(double height) {
        boolean dipped = valleyN < DIP_SHARE * peakN && peakN - valleyN > risesN;
        if (!dipped || height - valleyN < recoveryN()) {
            return false;
        }
        if (valleyN < LOW_SHARE * peakN && height <= peakN) {
            return true;
        }
        flags.add(ContractionFlag.DOUBLE_EFFORT);
        valleyN = height;
        return false;
    }

    private boolean settled(long nowNs, double height) {
        if (nowNs - blockNs >= SETTLED_BLOCK_NS) {
            double mean = blockSum / blockCount;
            double allowed = Math.max(1, Math.max(0.005 * peakN, 1.5 * noiseN));
            boolean low = mean < LOW_SHARE * peakN && lastBlockN < LOW_SHARE * peakN;
            if (low && Math.abs(mean - lastBlockN) < allowed) {
                settledN = mean;
                settledNs = blockNs - SETTLED_BLOCK_NS;
                return true;
            }
            lastBlockN = mean;
            blockNs = nowNs;
            blockSum = 0;
            blockCount = 0;
        }
        blockSum += height;
        blockCount++;
        return false;
    }
}
