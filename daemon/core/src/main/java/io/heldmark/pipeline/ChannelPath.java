package io.heldmark.pipeline;

import io.heldmark.align.ImpulseTrack;
import io.heldmark.calibrate.Calibrator;
import io.heldmark.calibrate.LevelSum;
import io.heldmark.calibrate.SessionZero;
import io.heldmark.config.Config;
import io.heldmark.config.StationSettings;
import io.heldmark.decode.DecodedFrame;
import io.heldmark.detect.ContractionDetector;
import io.heldmark.metric.LevelMeter;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Level;
import io.heldmark.model.Quantity;
import io.heldmark.model.SampleBatch;
import io.heldmark.model.TraceFilter;
import io.heldmark.model.TrialConditions;
import io.heldmark.model.ZeroReference;
import io.heldmark.model.ZeroState;
import io.heldmark.protocol.SamplesView;
import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * The path of one channel's samples: calibrate, detect and measure, filter for the live trace, zero.
 *
 * <p>Detector, level and zero get unfiltered newtons; only the live trace is filtered.
 *
 * <p><b>Threading.</b> One thread; nothing is allocated per sample.
 */
final class ChannelPath {
    /** Most samples of one message. */
    private static final int BATCH_CAPACITY = 31;

    private final ChannelInfo info;
    private final Calibrator calibrator;
    private final ContractionDetector detector;
    private final LevelMeter level;
    private final SessionZero zero;
    private final TraceChain chain;
    private final StationListener out;
    private final boolean traced;
    private final LoadWatch load;
    private final OverloadWatch overload;
    private final List<Tap> taps = new ArrayList<>();
    private @Nullable ImpulseTrack track;
    private ZeroReference zeroReference = ZeroReference.NONE;
    private final SampleBatch measured = new SampleBatch(BATCH_CAPACITY);
    private final SampleBatch trace = new SampleBatch(BATCH_CAPACITY);

    /** A sum that this channel is a term of. */
    private record Tap(LevelSum sum, int term) {}

    ChannelPath(
            ChannelInfo info,
            Calibrator calibrator,
            StationSettings settings,
            ContractionDesk desk,
            StationListener out) {
        this.info = info;
        this.calibrator = calibrator;
        this.out = out;
        traced = out.wantsTrace();
        load = new LoadWatch(info, settings.number(Config.RIG_RATED_LOAD_N), out);
        overload = new OverloadWatch(info, out);
        detector = new ContractionDetector(StageConfigs.detector(settings), info, desk::nextId, desk.listenerOf(info));
        level = new LevelMeter(info);
        zero = new SessionZero(
                info.channel(), StageConfigs.sessionZero(settings), info.unit(), info.resolution(), this::onZero);
        chain = new TraceChain(settings, info.sampleRateHz());
        measured.channel = info.channel();
        measured.periodNs = 1e9 / info.sampleRateHz();
        trace.channel = info.channel();
    }

    /** Begins: takes the zero by itself where the settings want that. */
    void begin(StationSettings settings, long atNs) {
        if (settings.isOn(Config.ZERO_AT_START)) {
            zero.requestWhenQuiet(atNs);
        } else {
            out.onZero(zero.state());
        }
    }

    ChannelInfo info() {
        return info;
    }

    TraceFilter traceFilter() {
        return chain.description();
    }

    /** Takes this channel's part of a frame. */
    void onFrame(DecodedFrame frame, int position, SampleClock clock) {
        fill(frame, position, clock);
        for (int i = 0; i < taps.size(); i++) {
            taps.get(i).sum().add(taps.get(i).term(), measured, calibrator.sessionZeroN());
        }
        if (traced) {
            out.onCounts(info.channel(), frame, position, measured.timeNs[Math.max(0, measured.count - 1)]);
        }
        if (track != null) {
            addTo(track, frame, clock);
        }
        process();
    }

    /** Keeps what a knock is looked for in, or with absent, nothing. */
    void listen(@Nullable ImpulseTrack into) {
        track = into;
    }

    /** Levels without the zero, so that one that is taken meanwhile is no step. */
    private void addTo(ImpulseTrack into, DecodedFrame frame, SampleClock clock) {
        boolean overload = (frame.status & SamplesView.STATUS_OVERLOAD) != 0;
        double zeroN = calibrator.sessionZeroN();
        for (int i = 0; i < measured.count; i++) {
            boolean gap = i == 0 && (frame.missingBefore != 0 || clock.restarted());
            into.add(clock.untiedNs(i), measured.forceN[i] + zeroN, gap, overload);
        }
    }

    /** Takes levels that were added up of other channels, without a session zero. */
    void onLevels(SampleBatch levels) {
        levels.copyTo(measured);
        double zeroN = calibrator.sessionZeroN();
        for (int i = 0; i < measured.count; i++) {
            measured.forceN[i] -= zeroN;
        }
        process();
    }

    /** Hands every sample of this channel on to a sum that it is a term of. */
    void addTap(LevelSum sum, int term) {
        taps.add(new Tap(sum, term));
    }

    /** Ends what {@link #addTap} began. */
    void removeTaps(LevelSum sum) {
        taps.removeIf(tap -> tap.sum() == sum);
    }

    private void process() {
        detector.onBatch(measured);
        load.onBatch(measured, calibrator.sessionZeroN());
        overload.onBatch(measured, calibrator.sessionZeroN());
        if (traced) {
            show();
        } else {
            out.onMeasured(measured);
        }
        // Last, because this batch still refers to the zero before.
        zero.onBatch(measured, calibrator.sessionZeroN(), detector.inContraction());
    }

    private void show() {
        level.onBatch(measured);
        if (chain.passesUnchanged()) {
            out.onSamples(measured);
        } else {
            measured.copyTo(trace);
            chain.process(trace);
            out.onSamples(trace);
        }
    }

    /** Lets time pass. */
    void onClock(long nowNs) {
        detector.onClock(nowNs);
        zero.onClock(nowNs);
    }

    /** Asks for the session zero. */
    void requestZero(long atNs) {
        zero.request(atNs);
    }

    /** Tells whether a zero was taken. */
    boolean zeroed() {
        return zeroReference.taken();
    }

    /** Returns the zero in force. */
    ResumePoint.ZeroPoint zeroPoint() {
        return new ResumePoint.ZeroPoint(info.channel(), zeroReference);
    }

    /** Takes a zero that is known already, as at the start of a recording that began within a session. */
    void adoptZero(ResumePoint.ZeroPoint point, long atNs) {
        ZeroReference known = point.zero();
        applyZero(known);
        out.onZero(new ZeroState(info.channel(), "taken", atNs, known.levelN(), known.standardUncertaintyN(), null));
    }

    /** Ends what is open; the link is gone for good or its stages are built anew. */
    void end(long atNs) {
        overload.end();
        detector.reset(atNs);
    }

    /** Takes what the plan or the user says of the trials from now on. */
    void setConditions(TrialConditions conditions) {
        detector.setConditions(conditions);
    }

    /** Ends what is open, with what was seen of it: the input is over. */
    void finish(long atNs) {
        overload.end();
        detector.end(atNs);
    }

    /** Returns what the channel reads now. */
    Level level(long nowNs) {
        Quantity force = level.level(nowNs);
        String state = "rest";
        if (force == null) {
            state = "lost";
        } else if (!calibrator.calibrated()) {
            state = "uncalibrated";
        } else if (detector.inContraction()) {
            state = "contraction";
        }
        return new Level(info.channel(), state, force);
    }

    private void onZero(ZeroState state) {
        if (state.state().equals("taken")) {
            applyZero(ZeroReference.taken(state.zeroN(), state.standardUncertaintyN(), state.atNs()));
        }
        out.onZero(state);
    }

    private void applyZero(ZeroReference taken) {
        double shiftN = taken.levelN() - calibrator.sessionZeroN();
        calibrator.setSessionZeroN(taken.levelN());
        detector.zeroTaken(shiftN, taken);
        level.setZero(taken);
        zeroReference = taken;
        chain.settleOnNext();
    }

    private void fill(DecodedFrame frame, int position, SampleClock clock) {
        measured.count = frame.sampleCount;
        measured.flags = flags(frame, clock);
        measured.firstSampleIndex = frame.firstSampleIndex;
        measured.missingBefore = frame.missingBefore;
        measured.arrivalNs = frame.arrivalNs;
        measured.timeStandardUncertaintyNs = clock.standardUncertaintyNs();
        calibrator.convert(frame.counts, position, frame.channelCount, frame.sampleCount, measured.forceN);
        clock.fillTimes(measured.timeNs, frame.sampleCount);
    }

    private static int flags(DecodedFrame frame, SampleClock clock) {
        int flags = frame.missingBefore != 0 ? SampleBatch.GAP_BEFORE : 0;
        flags |= clock.restarted() ? SampleBatch.CLOCK_RESTARTED : 0;
        flags |= (frame.status & SamplesView.STATUS_OVERLOAD) != 0 ? SampleBatch.OVERLOAD : 0;
        flags |= (frame.status & SamplesView.STATUS_ADC_FAULT) != 0 ? SampleBatch.ADC_FAULT : 0;
        return flags;
    }
}
