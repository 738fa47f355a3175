package io.heldmark.align;

import io.heldmark.time.Nanoseconds;

/**
 * Maps the ticks of one device to station time, and says how uncertain that is.
 *
 * <p><b>Method.</b> Frames arrive late, never early: the lower envelope of (arrival minus device time) over the last minutes
 * is the clock's line ({@link EnvelopeWindow}). How much constant delay the arrivals could hide follows from the rhythm in
 * which they came ({@link ArrivalPhase}). Where the device answers pings, sent at random times, the line is bounded
 * from the other side too ({@link TwoWayBound}); where pings and frames cross at the same events of the link, these tie
 * both clocks together ({@link EventMatch}, {@link DelaySplit}). A corrected estimate reaches the trace without a jump
 * ({@link SlewedLine}). A clock that steps or begins anew is told from a late link and restarts the estimate
 * ({@link StepWatch}). All of it with its evidence in {@code docs/alignment.md}.
 *
 * <p><b>Units and shape.</b> Ticks are unwrapped to {@code long}; times are nanoseconds of station time. The mapping only
 * uses what has arrived. It is strictly increasing over ticks two nanoseconds or more apart that are asked for in the
 * order in which frames came. Memory is bounded, nothing is allocated after construction, and the cost of an arrival
 * does not grow. The same calls give the same bits.
 *
 * <p><b>Errors.</b> A tick rate that is no positive number is refused. Exchanges that cannot be (received before sent) and
 * single frames whose tick breaks the order are left out of the estimate.
 *
 * <p><b>Threading.</b> Single writer.
 */
public final class ClockAligner {
    /** Least disagreement with the estimate that is taken for a step of the clock, in nanoseconds. */
    public static final double STEP_BOUND_NS = 100e6;

    /** Constant delay of the way up that no arrival shows and that is assumed to lie in 0 to this, in nanoseconds. */
    public static final double ASSUMED_DELAY_NS = 2e6;

    private static final double RECENT_NS = 10e9;
    private static final double STEP_BOUND_RANGES = 4;
    private static final double FRESH_START_NS = 20e6;
    private static final double KNOWN_NS = 10e9;
    private static final double SETTLED_NS = 1e9;

    private final double nsPerTick;
    private final EnvelopeWindow up = new EnvelopeWindow();
    private final ArrivalPhase phase = new ArrivalPhase();
    private final TwoWayBound twoWay = new TwoWayBound();
    private final EventMatch match = new EventMatch();
    private final SkewChoice skewChoice = new SkewChoice();
    private final StepWatch watch = new StepWatch();
    private final SlewedLine line = new SlewedLine();

    /** Whose estimate is taken. */
    private enum Method {
        NONE,
        ONE_WAY,
        BOTH_BOUNDS,
        MATCHED
    }

    private boolean ready;
    private long anchorTick;
    private long anchorNs;
    private double newestX;
    private double upOffset;
    private double settledX;
    private double settledOffset;
    private double settledSkew;
    private double estimateOffset;
    private double estimateUncertaintyNs;
    private final EstimateMoves moves = new EstimateMoves();
    private double constantNs;
    private double standingNs2;
    private Method method = Method.NONE;
    private double heldSkew;
    private double heldPeriodNs;
    private boolean restarted;
    private long lastMappedNs;
    private long restarts;

    /**
     * Makes an aligner that knows nothing yet.
     *
     * @param tickRateHz ticks a second, as the device declares.
     * @throws IllegalArgumentException if it is not finite and positive.
     */
    public ClockAligner(double tickRateHz) {
        if (!(tickRateHz > 0 && tickRateHz <= Double.MAX_VALUE)) {
            throw new IllegalArgumentException("tickRateHz must be finite and positive: tickRateHz=" + tickRateHz);
        }
        nsPerTick = 1e9 / tickRateHz;
    }

    /**
     * Takes the arrival of a frame, before its ticks are mapped.
     *
     * @param lastSampleTick unwrapped tick of the frame's last sample.
     * @param arrivalNs station time at which the bytes that completed it came.
     */
    public void onArrival(long lastSampleTick, long arrivalNs) {
        if (!ready) {
            begin(lastSampleTick, arrivalNs);
        }
        double x = (lastSampleTick - anchorTick) * nsPerTick;
        double arrival = arrivalNs - anchorNs;
        double z = arrival - x;
        double residualNs = z - upOffset - skewChoice.skew() * x;
        if (Math.abs(residualNs) <= STEP_BOUND_NS && watch.takeAgreeing(x, arrival)) {
            takeNormal(x, z);
            return;
        }
        StepWatch.Verdict verdict = watch.judge(x, arrival, residualNs, stepBoundNs());
        if (verdict == StepWatch.Verdict.NORMAL) {
            takeNormal(x, z);
        } else {
            onOdd(verdict, x, z);
        }
    }

    private void takeNormal(double x, double z) {
        take(x, z);
        if (x > newestX) {
            newestX = x;
        }
    }

    private void onOdd(StepWatch.Verdict verdict, double x, double z) {
        double mappedNs = line.at(newestX);
        switch (verdict) {
            case NORMAL -> {}
            case RESUMED -> {
                take(x, z);
                jump(estimateOffset, x, mappedNs);
            }
            case SUSPECT -> jump(z - skewChoice.skew() * x, x, mappedNs);
            case STILL_SUSPECT -> {
                line.move(watch.suspectZ() - skewChoice.skew() * x, skewChoice.skew(), newestX);
                newestX = x;
            }
            case STEPPED -> {
                restarts++;
                forgetPoints();
                take(x, Math.min(z, watch.suspectZ()));
                jump(estimateOffset, x, mappedNs);
            }
        }
    }

    /**
     * Takes an answered ping.
     *
     * @param pingSentNs station time at which the ping was handed to the link.
     * @param receivedTick unwrapped tick at which the device received it.
     * @param transmittedTick unwrapped tick at which the device handed its pong to the link.
     * @param arrivalNs station time at which the pong came.
     */
    public void onPong(long pingSentNs, long receivedTick, long transmittedTick, long arrivalNs) {
        if (!ready || pingSentNs > arrivalNs || receivedTick > transmittedTick) {
            return;
        }
        double transmittedX = (transmittedTick - anchorTick) * nsPerTick;
        double receivedX = (receivedTick - anchorTick) * nsPerTick;
        double upZ = arrivalNs - anchorNs - transmittedX;
        double downZ = pingSentNs - anchorNs - receivedX;
        double skew = skewChoice.skew();
        double bound = stepBoundNs();
        if (upZ - upOffset - skew * transmittedX < -bound || downZ - upOffset - skew * receivedX > bound) {
            return; // The clock has stepped, or this exchange is damaged: the frames decide.
        }
        up.add(transmittedX, upZ, skew);
        twoWay.add(receivedX, downZ, skew);
        match.addPing((double) (pingSentNs - anchorNs), receivedX);
        refresh();
    }

    /** Tells whether a frame has come, so that {@link #stationNs} may be asked. */
    public boolean ready() {
        return ready;
    }

    /**
     * Returns the station time of a tick.
     *
     * @throws IllegalStateException before the first arrival.
     */
    public long stationNs(long tick) {
        if (!ready) {
            throw new IllegalStateException("no frame has come yet");
        }
        return anchorNs + Nanoseconds.round(line.at((tick - anchorTick) * nsPerTick));
    }

    /** Returns how long a tick takes from a tick on, in nanoseconds of station time. */
    public double nsPerTick(long tick) {
        return nsPerTick * line.slope((tick - anchorTick) * nsPerTick);
    }

    /** Returns the standard uncertainty of {@link #stationNs} for the newest frame, in nanoseconds; NaN before one. */
    public double standardUncertaintyNs() {
        if (!ready) {
            return Double.NaN;
        }
        double restNs = line.restNs(newestX);
        return Math.sqrt(estimateUncertaintyNs * estimateUncertaintyNs + restNs * restNs);
    }

    /** Counts from now on how far the mapping moves without the device's clock: for a tie to another clock. */
    void beginMoves() {
        moves.begin(newestX);
    }

    /** Returns what the mapping is uncertain by now, constant and standing parts left out, in nanoseconds squared. */
    double movingNs2() {
        double restNs = line.restNs(newestX);
        return moves.movingNs2() + restNs * restNs;
    }

    EstimateMoves moves() {
        return moves;
    }

    /** Returns the variance of all that may have moved the mapping since then, on a radio or on a wire, in nanoseconds squared. */
    double movesVarianceNs2(boolean radio) {
        double restNs = line.restNs(newestX);
        return moves.varianceNs2(newestX, radio) + restNs * restNs;
    }

    /** Returns the device time that the present estimate stands on, in nanoseconds. */
    public double spanNs() {
        return ready ? up.spanNs() : 0;
    }

    /** Returns by how much the device's clock is fast, in parts per million of station time; NaN while unknown. */
    public double skewPpm() {
        return up.bins() < 2 ? Double.NaN : -1e6 * skewChoice.skew();
    }

    /** Returns the standard deviation of arrivals about the estimate, in nanoseconds; 0 while unknown. */
    public double arrivalJitterNs() {
        return phase.jitterNs();
    }

    /** Returns how often the estimate was restarted. */
    public long restarts() {
        return restarts;
    }

    /** Forgets the estimate, for example because the device is another one; later times stay after earlier ones. */
    public void restart() {
        if (ready) {
            restarts++;
            restarted = true;
            lastMappedNs = stationNs(anchorTick + Math.round(newestX / nsPerTick));
        }
        ready = false;
        forgetPoints();
        watch.clear();
    }

    private void begin(long tick, long arrivalNs) {
        ready = true;
        anchorTick = tick;
        anchorNs = arrivalNs;
        newestX = 0;
        upOffset = 0;
        settledX = 0;
        settledOffset = 0;
        settledSkew = 0;
        line.jump(0, 0, -framePeriodNs(), restarted ? lastMappedNs - arrivalNs : Double.NEGATIVE_INFINITY);
    }

    private void forgetPoints() {
        method = Method.NONE;
        up.clear();
        heldPeriodNs = framePeriodNs();
        phase.clear();
        twoWay.clear();
        match.clear();
        skewChoice.clear();
        upOffset = Double.POSITIVE_INFINITY;
        settledOffset = Double.NEGATIVE_INFINITY;
    }

    private void take(double x, double z) {
        double skew = skewChoice.skew();
        if (fallsFarBelow(x, z)) {
            // The link came up with a backlog, or the clock stepped while the link was late: what came before says
            // nothing against what comes now. Where it was held to be known, that is a restart.
            restarts += up.spanNs() >= KNOWN_NS ? 1 : 0;
            forgetPoints();
        }
        double residualNs = z - upOffset - skew * x;
        boolean newBin = up.add(x, z, skew);
        phase.add(x, z);
        match.addFrame(x + z);
        if (newBin || residualNs < 0 || phase.due()) {
            newestX = Math.max(newestX, x);
            refresh();
        }
    }

    /** Compares with the envelope of a while ago, as a backlog takes it along by one frame at a time. */
    private boolean fallsFarBelow(double x, double z) {
        if (!(Math.abs(newestX - settledX) <= SETTLED_NS)) {
            settledX = newestX;
            settledOffset = upOffset;
            settledSkew = skewChoice.skew();
        }
        double belowNs = z - settledOffset - settledSkew * x;
        return belowNs < -FRESH_START_NS && belowNs < -FRESH_START_NS - phase.rangeNs(); // mostly not even the first
    }

    private void refresh() {
        up.fit();
        twoWay.fit();
        match.fit(skewChoice.skew(), newestX);
        skewChoice.choose(up, phase, twoWay, match);
        double skew = skewChoice.skew();
        double skewU = skewChoice.uncertainty();
        upOffset = up.offset(skew, newestX, skewU);
        if (phase.due()) {
            phase.evaluate(upOffset, skew, skewU);
        }
        if (twoWay.ready()) {
            twoWay.solve(upOffset, skew, skewU, newestX, phase.hiddenNs());
        }
        double heldOffset = estimateOffset;
        Method before = method;
        method = estimate(skew, skewU);
        double moving =
                Math.max(0, estimateUncertaintyNs * estimateUncertaintyNs - constantNs * constantNs - standingNs2);
        if (before == Method.NONE || method == before) {
            moves.onEstimate(moving, standingNs2);
        } else {
            moves.onMethod(estimateOffset - heldOffset + (skew - heldSkew) * newestX, moving, standingNs2);
        }
        heldSkew = skew;
        line.move(estimateOffset, skew, newestX);
    }

    /** Takes the matched events where there are any, else what is less uncertain of the bounds of one way and of both. */
    private Method estimate(double skew, double skewU) {
        if (match.ready() && takeMatched(match.offset(skew), skewU)) {
            return Method.MATCHED;
        }
        double leverNs = skewU * (newestX - up.touchX());
        double slackNs = up.slackSince(newestX - RECENT_NS, upOffset, skew);
        estimateOffset = upOffset;
        estimateUncertaintyNs = oneWayUncertaintyNs(phase.hiddenNs(), slackNs, leverNs);
        constantNs = ASSUMED_DELAY_NS / Math.sqrt(3);
        standingNs2 = phase.hiddenNs() * phase.hiddenNs() / 3;
        double bothNs = twoWay.ready() ? StrictMath.hypot(twoWay.uncertaintyNs(), leverNs) : Double.POSITIVE_INFINITY;
        if (bothNs > estimateUncertaintyNs) {
            return Method.ONE_WAY;
        }
        estimateOffset = twoWay.offset();
        estimateUncertaintyNs = bothNs;
        constantNs = twoWay.constantNs();
        standingNs2 = twoWay.standingNs2();
        return Method.BOTH_BOUNDS;
    }

    private boolean takeMatched(double offset, double skewU) {
        double aboveNs = upOffset - offset;
        double belowNs = twoWay.ready() ? offset - twoWay.lineOffset() : Double.POSITIVE_INFINITY;
        if (!DelaySplit.possible(aboveNs, belowNs)) {
            return false;
        }
        double leverNs = skewU * (newestX - match.meanX());
        double splitNs = DelaySplit.uncertaintyNs(aboveNs, belowNs, ASSUMED_DELAY_NS);
        estimateOffset = offset;
        constantNs = splitNs;
        standingNs2 = 0;
        estimateUncertaintyNs = StrictMath.hypot(StrictMath.hypot(match.meanUncertaintyNs(), splitNs), leverNs);
        return true;
    }

    private static double oneWayUncertaintyNs(double hiddenNs, double slackNs, double leverNs) {
        double slack = slackNs <= Double.MAX_VALUE ? slackNs : 0;
        return Math.sqrt(
                (hiddenNs * hiddenNs + slack * slack + ASSUMED_DELAY_NS * ASSUMED_DELAY_NS) / 3 + leverNs * leverNs);
    }

    private void jump(double offset, double x, double notBeforeNs) {
        // The frame's first sample comes after the last of the frame before, about one period back.
        line.jump(offset, skewChoice.skew(), x - framePeriodNs(), notBeforeNs);
        newestX = x;
    }

    private double framePeriodNs() {
        return phase.periodNs() > 0 ? phase.periodNs() : heldPeriodNs;
    }

    private double stepBoundNs() {
        return Math.max(STEP_BOUND_NS, STEP_BOUND_RANGES * phase.rangeNs());
    }
}
