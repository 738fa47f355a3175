package io.heldmark.pipeline;

import io.heldmark.align.ClockAligner;
import io.heldmark.align.ClockTie;
import io.heldmark.decode.DecodedFrame;
import io.heldmark.time.Nanoseconds;
import org.jspecify.annotations.Nullable;

/**
 * Station times of the samples of one device, strictly increasing whatever the estimate of its clock does.
 *
 * <p><b>From the first sample on.</b> Nothing is held back until the clock is known: the first times come from the first
 * arrival, and their uncertainty says so.
 *
 * <p><b>Method.</b> Within an unbroken run the next frame is due one sample distance after the newest sample. The
 * estimate may say otherwise; the run is then stretched or squeezed by at most {@value #SLEW} of its length, on top of
 * the estimate's own slewing, until both agree. What is left of the difference is added to the uncertainty, in squares. After missing samples or a restart of
 * the clock the estimate is taken at once, but never less than half a sample distance after the newest sample. In an
 * unbroken run an estimate that is ahead by more than {@value #STEP_S} s is taken at once too, as a restart. A tie to another
 * clock moves the estimate like anything else.
 *
 * <p><b>Threading.</b> One thread; nothing is allocated after construction.
 */
final class SampleClock {
    private static final double SLEW = 0.1;
    private static final double STEP_S = 0.25;
    /** From here on doubles have no fraction: 52 days in nanoseconds. */
    private static final double WHOLE_FROM = 0x1p52;

    private final ClockAligner aligner;
    private final long tickRateHz;
    private boolean started;
    private long newestNs;
    private long seenRestarts;
    private long restarts;

    private @Nullable ClockTie tie;
    private int tiedSide;
    private double untiedFirstNs;
    private double untiedStepNs;
    private double firstNs;
    private double stepNs;
    private double standardUncertaintyNs;
    private boolean restarted;

    /**
     * Makes a clock.
     *
     * @param tickRateHz rate of the device's ticks.
     * @param before clock of the same link before, whose times these must follow.
     */
    SampleClock(long tickRateHz, SampleClock before) {
        this(tickRateHz);
        started = before.started;
        newestNs = before.newestNs;
        restarts = before.restarts + 1;
        restarted = true;
    }

    /** Makes the first clock of a link. */
    SampleClock(long tickRateHz) {
        this.tickRateHz = tickRateHz;
        aligner = new ClockAligner(tickRateHz);
    }

    /** Takes a frame; its times can be asked for afterwards. */
    void onFrame(DecodedFrame frame) {
        boolean replaced = restarted && stepNs == 0; // a clock that follows another begins with a restart
        if (frame.clockRestarted) {
            aligner.restart();
        }
        long lastTick = frame.firstTick + Nanoseconds.round((frame.sampleCount - 1) * frame.ticksPerSample);
        aligner.onArrival(lastTick, frame.arrivalNs);
        boolean estimateRestarted = aligner.restarts() != seenRestarts;
        seenRestarts = aligner.restarts();
        restarted = replaced || frame.clockRestarted || estimateRestarted;
        if (!replaced && (frame.clockRestarted || estimateRestarted)) { // a clock that follows another has counted it
            restarts++;
        }
        if (restarted) {
            tie = null; // what tied it was of another clock, or of other delays
        }
        place(frame);
    }

    /** Takes a two-way exchange. */
    void onPong(long pingSentNs, long receivedTick, long transmittedTick, long arrivalNs) {
        aligner.onPong(pingSentNs, receivedTick, transmittedTick, arrivalNs);
    }

    /** Returns the time of a sample of the newest frame. */
    long timeNs(int sample) {
        return Nanoseconds.round(firstNs + sample * stepNs);
    }

    /**
     * Fills in the times of the samples of the newest frame, all as {@link #timeNs} has them.
     *
     * <p>From 1 to 2^52 the sum with a half is exact, or, where it passes a power of two, rounded to no less than that power:
     * cutting off its fraction rounds half up, in less time than looking at the fraction. Samples are 2 ns apart or more, so that
     * the first and the last speak for all. The sample's number is counted as a double too, which is exact: turning the
     * count into one for each sample takes longer than all the rest.
     */
    void fillTimes(long[] timeNs, int count) {
        double first = firstNs;
        double step = stepNs;
        if (first >= 1 && first + (count - 1) * step < WHOLE_FROM) {
            double sample = 0;
            for (int i = 0; i < count; i++) {
                timeNs[i] = (long) (first + sample * step + 0.5);
                sample++;
            }
        } else {
            for (int i = 0; i < count; i++) {
                timeNs[i] = timeNs(i);
            }
        }
    }

    /** Returns the standard uncertainty of the newest frame's times. */
    double standardUncertaintyNs() {
        return standardUncertaintyNs;
    }

    /** Tells whether the newest frame's times are not comparable with those before. */
    boolean restarted() {
        return restarted;
    }

    /** Returns how often the estimate began anew. */
    long restarts() {
        return restarts;
    }

    /** Returns the spread of arrivals about the estimate; NaN before the first. */
    double arrivalJitterNs() {
        return aligner.ready() ? aligner.arrivalJitterNs() : Double.NaN;
    }

    /** Returns the device's clock against the station's, in parts per million; NaN where not known. */
    double skewPpm() {
        return aligner.ready() ? aligner.skewPpm() : Double.NaN;
    }

    /** Ties the clock to another one, or with absent, lets it go by itself again. */
    void setTie(@Nullable ClockTie with, int side) {
        tie = with;
        tiedSide = side;
    }

    /** Tells whether the clock is tied so. */
    boolean isTied(ClockTie with) {
        return tie == with;
    }

    /** Returns the distance of two ticks, in nanoseconds. */
    double tickNs() {
        return 1e9 / tickRateHz;
    }

    /** Returns the estimate of the device's clock. */
    ClockAligner aligner() {
        return aligner;
    }

    /** Returns the time of a sample of the newest frame as the estimate has it, without a tie or a remainder of slewing. */
    double untiedNs(int sample) {
        return untiedFirstNs + sample * untiedStepNs;
    }

    private void place(DecodedFrame frame) {
        long untiedNs = aligner.stationNs(frame.firstTick);
        ClockTie tied = tie;
        long estimateNs = tied == null ? untiedNs : untiedNs + Math.round(tied.shiftNs(tiedSide));
        double estimatedStepNs = aligner.nsPerTick(frame.firstTick) * frame.ticksPerSample;
        stepNs = estimatedStepNs > 2 ? estimatedStepNs : 2;
        untiedFirstNs = untiedNs;
        untiedStepNs = stepNs;
        double leftNs = 0;
        if (!started) {
            firstNs = estimateNs;
        } else if (restarted || frame.missingBefore != 0) {
            firstNs = Math.max((double) estimateNs, newestNs + stepNs / 2);
            leftNs = firstNs - estimateNs;
        } else {
            leftNs = follow(estimateNs, frame.sampleCount);
        }
        started = true;
        newestNs = timeNs(frame.sampleCount - 1);
        double alignedNs = tied == null ? aligner.standardUncertaintyNs() : tied.standardUncertaintyNs(tiedSide);
        // The root of a rounded square is the number itself (Boldo, Stupid is as stupid does, 2015; radix 2).
        standardUncertaintyNs = leftNs == 0 ? alignedNs : Math.sqrt(alignedNs * alignedNs + leftNs * leftNs);
    }

    /** Goes on from the newest sample, towards the estimate; returns what is left of the difference. */
    private double follow(long estimateNs, int count) {
        double dueNs = newestNs + stepNs;
        double offNs = estimateNs - dueNs;
        if (offNs > STEP_S * 1e9) {
            firstNs = estimateNs;
            restarted = true;
            tie = null;
            restarts++;
            return 0;
        }
        double most = SLEW * count * stepNs;
        double correctionNs =
                offNs > most ? most : offNs < -most ? -most : offNs; // Foreseen, which min and max are not.
        stepNs += correctionNs / count;
        firstNs = newestNs + stepNs;
        return offNs - correctionNs;
    }
}
