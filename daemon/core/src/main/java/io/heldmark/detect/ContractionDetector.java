package io.heldmark.detect;

import io.heldmark.detect.OpenWindow.Turn;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Contraction;
import io.heldmark.model.Contraction.Revision;
import io.heldmark.model.ContractionFlag;
import io.heldmark.model.SampleBatch;
import io.heldmark.model.TestConditions;
import io.heldmark.model.TrialConditions;
import io.heldmark.model.Window;
import io.heldmark.model.ZeroReference;
import java.util.function.LongSupplier;
import org.jspecify.annotations.Nullable;

/**
 * Finds the contractions of one channel while its samples arrive.
 *
 * <p><b>Method.</b> A state machine on the trace smoothed over 20 ms; states, thresholds and their reasons stand in {@code
 * docs/detection.md}. LEARNING takes level and noise of rest. RESTING follows them ({@link RestTracker}). RISING begins
 * when the trace stands max(minimumRiseN, noiseMultiple x noise) above rest and becomes ACTIVE as soon as the force has
 * visibly been built up ({@link BuildUp}); a step that is not is handling and becomes the new rest. ACTIVE ends when the
 * force is back at rest; RELEASING waits for the tail, then the boundaries are refined ({@link Finisher}) and the final
 * revision is told. What proves to be handling after it was opened is withdrawn.
 *
 * <p><b>Units.</b> Newtons relative to the session zero, nanoseconds of station time. Other channels are left alone.
 *
 * <p><b>Errors.</b> Gaps are survived and flagged, never filled; a contraction cut by a long one is ended. Time that does
 * not increase ends what is open and starts the trace afresh.
 *
 * <p><b>Cost and determinism.</b> O(1) per sample apart from a bounded search during a rise; nothing allocated per sample.
 * Driven by samples and {@link #onClock} alone.
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

    /** No contraction is under way, one is, or it is over but for its tail. */
    private enum Phase {
        REST,
        ACTIVE,
        RELEASING
    }

    private static final double KEPT_BEFORE_S = 2;
    private static final double LATE_S = 1; // Packets may be this late before their absence counts as a gap.
    private static final long STEP_CHECK_NS = 200_000_000L;
    private static final long TAIL_NS = 250_000_000L;
    private static final long LONGEST_TAIL_NS = 1_000_000_000L;

    private final DetectorConfig config;
    private final ChannelInfo channel;
    private final LongSupplier nextId;
    private final Listener listener;
    private final TraceBuffer raw;
    private final RestWatch watch;
    private final OpenWait openWait;
    private final Segment.Room room = new Segment.Room();
    private final boolean isForce;
    private final long longestNs;

    private Phase phase = Phase.REST;
    private @Nullable OpenWindow open;
    private final BatchFlags batchFlags = new BatchFlags();
    private TrialConditions conditions = TrialConditions.always(TestConditions.UNKNOWN);
    private ZeroReference zero = ZeroReference.NONE;
    private double timeU;
    private double bestN;
    private boolean sampled;
    private long lastNs;
    private long endSeenNs;
    private long tryNs;
    private boolean stepChecked;

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
        isForce = channel.unit().equals("N");
        longestNs = RestWatch.ns(config.longestS());
        double rateHz = channel.sampleRateHz();
        raw = new TraceBuffer((int) Math.ceil((config.longestS() + KEPT_BEFORE_S) * rateHz * 1.05));
        watch = new RestWatch(config, raw, rateHz, channel.resolution());
        openWait = watch.openWait();
    }

    /** Takes a batch of the channel: calibrated, relative to the session zero in force, unfiltered. */
    public void onBatch(SampleBatch batch) {
        if (!isForce || batch.count == 0) {
            return;
        }
        timeU = batch.timeStandardUncertaintyNs;
        boolean gap = batch.has(SampleBatch.GAP_BEFORE);
        if (sampled && batch.timeNs[0] <= lastNs) {
            restartTrace();
        } else if (sampled && gap) {
            passGap(batch.timeNs[0]);
        }
        batchFlags.read(batch);
        if (open != null && phase == Phase.ACTIVE) {
            open.flags.addAll(batchFlags.raised());
        }
        sampled = true;
        if (mayWait(batch)) {
            raw.add(batch);
            lastNs = batch.timeNs[batch.count - 1];
            return;
        }
        catchUp();
        for (int i = 0; i < batch.count; i++) {
            raw.add(batch.timeNs[i], batch.forceN[i], i == 0 && gap);
            lastNs = batch.timeNs[i];
            if (watch.add()) {
                onMean(lastNs, watch.meanN());
            }
        }
    }

    private boolean mayWait(SampleBatch batch) {
        return switch (phase) {
            case REST -> watch.mayWait(batch);
            case ACTIVE ->
                openWait.mayWait(opened(), batch, opened().onsetNs + (stepChecked ? longestNs : STEP_CHECK_NS));
            case RELEASING -> openWait.mayWaitForTail(opened(), batch, tryNs, opened().onwardN(watch.thresholdN()));
        };
    }

    /** Follows the samples that have been let wait. */
    private void catchUp() {
        if (open == null) {
            watch.catchUp();
        } else {
            openWait.catchUp(open);
        }
    }

    /** Lets time pass without samples: ends a contraction whose samples stay away. */
    public void onClock(long nowNs) {
        if (open != null && nowNs - lastNs > RestWatch.ns(config.longestGapS() + LATE_S)) {
            lose(nowNs);
        }
    }

    /**
     * Takes a new session zero; samples from now on refer to it.
     *
     * @param shiftN new zero less the one before, in newtons.
     * @param taken the new zero.
     */
    public void zeroTaken(double shiftN, ZeroReference taken) {
        zero = taken;
        catchUp();
        watch.shiftZero(shiftN);
        raw.shiftZero(shiftN);
        if (open != null) {
            open.shiftZero(shiftN);
        }
    }

    /** Takes what the plan or the user says of the trials; windows that end from now on carry it. */
    public void setConditions(TrialConditions newConditions) {
        conditions = newConditions;
    }

    /** Tells whether a contraction is under way. */
    public boolean inContraction() {
        return open != null;
    }

    /** The input is over: what is open is finished with what was seen of it. */
    public void end(long atNs) {
        catchUp();
        if (open != null && phase == Phase.RELEASING) {
            finish(endSeenNs, atNs, Finisher.End.SEEN, false); // Back at rest; only its tail is short.
        }
        reset(atNs);
    }

    /** Ends what is open and forgets the trace: the link was lost or the channel's calibration changed. */
    public void reset(long atNs) {
        if (open != null) {
            lose(atNs);
        }
        watch.clear();
        raw.clear();
        sampled = false;
    }

    private void onMean(long nowNs, double meanN) {
        switch (phase) {
            case REST -> watchRest(nowNs, meanN);
            case ACTIVE -> follow(nowNs, meanN);
            case RELEASING -> release(nowNs, meanN);
        }
    }

    private void watchRest(long nowNs, double meanN) {
        RestWatch.Sight sight = watch.next(nowNs, meanN);
        if (sight == RestWatch.Sight.NOTHING) {
            return;
        }
        OpenWindow window = new OpenWindow(
                nextId.getAsLong(),
                watch.onsetNs(),
                watch.onsetUNs(),
                nowNs,
                watch.restN(),
                watch.noiseN(),
                watch.thresholdN());
        window.flags.addAll(batchFlags.raised());
        if (!zero.taken()) {
            window.flags.add(ContractionFlag.NO_ZERO);
        }
        if (sight == RestWatch.Sight.HIDDEN) {
            window.flags.add(ContractionFlag.ONSET_NOT_SEEN);
        }
        open = window;
        stepChecked = sight == RestWatch.Sight.HIDDEN;
        phase = Phase.ACTIVE;
        watch.opened(nowNs);
        listener.onOpened(window.told(Revision.PROVISIONAL, channel, window.flags, null, timeU), nowNs);
        follow(nowNs, meanN);
    }

    private void follow(long nowNs, double meanN) {
        OpenWindow window = opened();
        Turn turn = window.next(nowNs, meanN);
        if (!stepChecked && nowNs - window.onsetNs > STEP_CHECK_NS) {
            stepChecked = true;
            if (watch.wasStep(window)) {
                withdraw(ContractionFlag.STEP, nowNs);
                return;
            }
        }
        if (watch.isWeight(window, nowNs, meanN)) {
            withdraw(ContractionFlag.STILL, nowNs);
            return;
        }
        switch (turn) {
            case NONE -> cutAtMaximum(nowNs);
            case ENDED -> {
                phase = Phase.RELEASING;
                endSeenNs = nowNs;
                tryNs = nowNs + TAIL_NS;
            }
            case NEXT_EFFORT -> nextEffort(nowNs, meanN);
            case SETTLED -> {
                window.flags.add(ContractionFlag.RESTING_LEVEL_CHANGED);
                finish(window.settledNs(), nowNs, Finisher.End.SEEN, false);
                watch.adoptLevel(nowNs);
            }
        }
    }

    private void cutAtMaximum(long nowNs) {
        if (nowNs - opened().onsetNs > longestNs) {
            opened().flags.add(ContractionFlag.MAXIMUM_LENGTH);
            finish(nowNs, nowNs, Finisher.End.CUT, false);
            watch.startResting(nowNs);
        }
    }

    private void release(long nowNs, double meanN) {
        OpenWindow window = opened();
        window.next(nowNs, meanN);
        if (meanN - window.restN() > window.onwardN(watch.thresholdN())) {
            nextEffort(nowNs, meanN);
        } else if (nowNs >= tryNs) {
            boolean mayWait = nowNs - endSeenNs < LONGEST_TAIL_NS;
            if (finish(endSeenNs, nowNs, Finisher.End.SEEN, mayWait)) {
                watch.startResting(nowNs);
            } else {
                tryNs = endSeenNs + LONGEST_TAIL_NS;
            }
        }
    }

    private void nextEffort(long nowNs, double meanN) {
        finish(opened().valleyNs(), nowNs, Finisher.End.NEXT_EFFORT, false);
        watch.startRising(nowNs);
        watchRest(nowNs, meanN);
    }

    private void passGap(long firstNs) {
        catchUp();
        if (open != null && firstNs - lastNs > RestWatch.ns(config.longestGapS())) {
            lose(firstNs);
        } else if (open != null) {
            open.flags.add(ContractionFlag.GAP_INSIDE);
        }
        watch.passGap((firstNs - lastNs) * 1e-9);
    }

    private void lose(long nowNs) {
        catchUp();
        opened().flags.add(ContractionFlag.SAMPLES_LOST);
        finish(lastNs, nowNs, Finisher.End.CUT, false);
        watch.startResting(lastNs);
    }

    private void restartTrace() {
        if (open != null) {
            open.flags.add(ContractionFlag.CLOCK_RESTARTED);
            lose(lastNs);
        }
        watch.clearTrace();
        raw.clear();
    }

    private void withdraw(ContractionFlag why, long nowNs) {
        OpenWindow window = opened();
        window.flags.add(why);
        open = null;
        phase = Phase.REST;
        listener.onWithdrawn(window.told(Revision.WITHDRAWN, channel, window.flags, null, timeU), nowNs);
        watch.adoptLevel(nowNs);
    }

    /** Finishes the window unless it may wait for its tail and should; tells whether it did. */
    private boolean finish(long endNs, long nowNs, Finisher.End how, boolean mayWait) {
        OpenWindow window = opened();
        Finisher result = new Finisher(config, channel, raw, window, watch.notBeforeNs(), endNs, how, room);
        if (mayWait && !result.returned() && !result.handling()) {
            return false;
        }
        open = null;
        phase = Phase.REST;
        TraceWindow.Bounds bounds = result.bounds();
        watch.notBefore(bounds.offsetNs());
        if (result.handling()) {
            listener.onWithdrawn(window.told(Revision.WITHDRAWN, channel, result.flags(), null, timeU), nowNs);
            return true;
        }
        bestN = Math.max(bestN, result.peakN());
        addFlags(result, how);
        TestConditions said = conditions.at(bounds.onsetNs());
        TraceWindow view = new TraceWindow(raw, channel, bounds, zero, timeU, bestN, said, result.flags());
        listener.onClosed(window.told(Revision.FINAL, channel, result.flags(), bounds, timeU), view, nowNs);
        return true;
    }

    private void addFlags(Finisher result, Finisher.End how) {
        if (how == Finisher.End.NEXT_EFFORT && !result.returned()) {
            result.flags().add(ContractionFlag.NOT_BACK_TO_REST);
        }
        if (how == Finisher.End.SEEN && !result.returned()) {
            result.flags().add(ContractionFlag.RESTING_LEVEL_CHANGED);
        }
        if (TraceWindow.offZero(result.bounds().restingLevelN(), bestN)) {
            result.flags().add(ContractionFlag.RESTING_LEVEL_OFF_ZERO);
        }
        if (!(channel.calibrationRelativeU() >= 0)) {
            result.flags().add(ContractionFlag.CALIBRATION_UNKNOWN);
        }
    }

    private OpenWindow opened() {
        if (open == null) {
            throw new IllegalStateException("no contraction is open in phase " + phase);
        }
        return open;
    }
}
