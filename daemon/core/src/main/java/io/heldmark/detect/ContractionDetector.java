package io.heldmark.detect;

import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Contraction;
import io.heldmark.model.Contraction.Revision;
import io.heldmark.model.ContractionFlag;
import io.heldmark.model.SampleBatch;
import io.heldmark.model.Window;
import java.util.List;
import java.util.function.LongSupplier;

/**
 * Finds the contractions of one channel while its samples arrive.
 *
 * <p>A channel that is not calibrated in newtons is left alone: the thresholds are forces.
 *
 * <p><b>Threading.</b> One thread; listeners are called on it and must not block.
 */
public final class ContractionDetector {
    /** Takes what is found. */
    public interface Listener {
        /**
         * A contraction began.
         *
         * @param provisional with its back-dated onset; no offset, no metrics yet.
         * @param atNs time of the sample that decided it.
         */
        void onOpened(Contraction provisional, long atNs);

        /**
         * A contraction is over.
         *
         * @param finished the final revision, boundaries refined; metrics still empty.
         * @param window its samples, valid during the call.
         * @param atNs time of the sample, or clock, that decided it.
         */
        void onClosed(Contraction finished, Window window, long atNs);

        /**
         * What had been opened was handling and no contraction.
         *
         * @param withdrawn revision {@code WITHDRAWN}; its flags say why.
         * @param atNs time of the sample, or clock, that decided it.
         */
        void onWithdrawn(Contraction withdrawn, long atNs);
    }

    private static final double KEPT_BEFORE_S = 2;

    private final DetectorConfig config;
    private final ChannelInfo channel;
    private final LongSupplier nextId;
    private final Listener listener;
    private final TraceBuffer trace;

    private boolean zeroed;
    private double zeroU;
    private double timeU;
    private boolean open;
    private long id;
    private long onset;
    private double restN;
    private double peakN;
    private long lastNs;

    /**
     * Makes the detector of one channel.
     *
     * @param config thresholds.
     * @param channel the channel.
     * @param nextId gives the session's next contraction id.
     * @param listener takes what is found.
     */
    public ContractionDetector(DetectorConfig config, ChannelInfo channel, LongSupplier nextId, Listener listener) {
        this.config = config;
        this.channel = channel;
        this.nextId = nextId;
        this.listener = listener;
        double keptS = config.longestS() + KEPT_BEFORE_S;
        trace = new TraceBuffer((int) Math.ceil(keptS * channel.sampleRateHz() * 1.05));
    }

    /** Takes a batch of the channel: calibrated, relative to the session zero in force, unfiltered. */
    public void onBatch(SampleBatch batch) {
        if (!channel.unit().equals("N")) {
            return;
        }
        timeU = batch.timeStandardUncertaintyNs;
        for (int i = 0; i < batch.count; i++) {
            trace.add(batch.timeNs[i], batch.forceN[i], i == 0 && batch.has(SampleBatch.GAP_BEFORE));
            onSample(batch.timeNs[i], batch.forceN[i]);
        }
    }

    /** Lets time pass without samples: ends a contraction whose samples stay away. */
    public void onClock(long nowNs) {
        if (open && nowNs - lastNs > config.longestGapS() * 1e9) {
            close(nowNs, List.of(ContractionFlag.SAMPLES_LOST.id()));
        }
    }

    /**
     * Takes a new session zero; samples from now on refer to it.
     *
     * @param shiftN new zero less the one before, in newtons.
     * @param standardUncertaintyN standard uncertainty of the new zero.
     */
    public void zeroTaken(double shiftN, double standardUncertaintyN) {
        zeroed = true;
        zeroU = standardUncertaintyN;
        trace.shiftZero(shiftN);
        restN -= shiftN;
    }

    /** Tells whether a contraction is under way. */
    public boolean inContraction() {
        return open;
    }

    /** Ends what is open and forgets the trace: the link was lost or the channel's calibration changed. */
    public void reset(long atNs) {
        if (open) {
            close(atNs, List.of(ContractionFlag.SAMPLES_LOST.id()));
        }
        trace.clear();
    }

    private void onSample(long timeNs, double forceN) {
        lastNs = timeNs;
        double riseN = forceN - restN;
        if (!open && riseN > config.minimumPeakN()) {
            open = true;
            id = nextId.getAsLong();
            onset = timeNs;
            peakN = riseN;
            listener.onOpened(contraction(Revision.PROVISIONAL, Double.NaN, 0, 0, List.of()), timeNs);
        } else if (open) {
            peakN = Math.max(peakN, riseN);
            if (riseN < 0.05 * peakN || timeNs - onset > config.longestS() * 1e9) {
                close(timeNs, List.of());
            }
        } else {
            restN += 0.002 * riseN;
        }
    }

    private void close(long atNs, List<String> flags) {
        open = false;
        double u = 1e9 / channel.sampleRateHz();
        long from = trace.positionAtOrAfter(onset - 1_000_000_000L);
        TraceWindow.Bounds bounds = new TraceWindow.Bounds(from, trace.end(), onset, u, lastNs, lastNs, u, restN, 0, 1);
        TraceWindow window = new TraceWindow(trace, channel, bounds, zeroed ? zeroU : 0, timeU);
        listener.onClosed(contraction(Revision.FINAL, Math.hypot(u, timeU), lastNs, lastNs, flags), window, atNs);
    }

    private Contraction contraction(
            Revision revision, double onsetU, long releaseNs, long offsetNs, List<String> flags) {
        return new Contraction(
                id,
                revision,
                channel.channel(),
                channel.limb(),
                onset,
                onsetU,
                releaseNs,
                offsetNs,
                restN,
                flags,
                List.of());
    }
}
