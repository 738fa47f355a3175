package io.heldmark.detect;

import io.heldmark.model.SampleBatch;

/**
 * Watches a channel while no contraction is under way: knows rest, and says when force is being built up.
 *
 * <p><b>States.</b> LEARNING takes level and noise of rest ({@link Learning}). RESTING follows them ({@link RestTracker}).
 * RISING begins when the smoothed trace stands max(minimumRiseN, noiseMultiple x noise) above rest. There a contraction
 * opens as soon as the rise to the present height has visibly taken time ({@link BuildUp}); a rise that has not shown that
 * within 0.4 s is a step, and its level the new rest.
 *
 * <p>Thresholds and their reasons: {@code docs/detection.md}. O(1) per sample apart from a bounded search while RISING;
 * nothing allocated per sample.
 */
final class RestWatch {
    /** What a smoothed sample means. */
    enum Sight {
        /** Nothing. */
        NOTHING,
        /** Force is being built up. */
        BUILD_UP,
        /** Force is there, and a gap hides how it came. */
        HIDDEN
    }

    private enum State {
        LEARNING,
        RESTING,
        RISING
    }

    private static final double SMOOTHED_S = 12; // What a weight's arrival is looked up in, long after.
    private static final double WIDE_S = 4; // SEARCH_S back from a peak that is the age at which a step is looked for.
    private static final double SEARCH_S = 1.5;
    private static final double FORGET_S = 2; // A longer gap makes the level of rest unknown.
    private static final long SETTLING_NS = 500_000_000L;
    private static final long LIFTED_NS = 300_000_000L; // A countermovement is over by then.
    private static final long SWING_NS = 2_000_000_000L;
    private static final long FLAT_NS = 400_000_000L;
    private static final double LOW = 0.2;
    private static final double HIGH = 0.9;
    private static final double SLOW_NS = 75e6;
    private static final double RISING_S = 0.08;
    private static final double RISING_SHARE = 0.15;
    private static final double LIMB_N = 150;
    private static final double LAID_S = 0.25;
    private static final double ALONE_SHARE = 0.6;
    private static final double STILL_FOR_LONG_S = 10;
    private static final int MOST_BEHIND = 512;

    private final DetectorConfig config;
    private final TraceBuffer raw;
    private final int mostBehind;
    private final int wideMostBehind;
    private final Smoother narrow;
    private final Smoother wide;
    private final BuildUp buildUp;
    private final BuildUp slowBuildUp;
    private final RestTracker rest;
    private final Stillness stillness;
    private final RestWait wait;
    private final Learning learning = new Learning();
    private final double periodS;
    private final double neededBuildUpNs;
    private final double stepNs;

    private State state = State.LEARNING;
    private boolean hidden;
    private long notBeforeNs = Long.MIN_VALUE;
    private long risingSinceNs;
    private long belowSinceNs = Long.MAX_VALUE;
    private long steadySinceNs;
    private double steadyN;

    RestWatch(DetectorConfig config, TraceBuffer raw, double rateHz, double resolution) {
        this.config = config;
        this.raw = raw;
        wideMostBehind = raw.capacity() / 2;
        narrow = new Smoother(raw, 0.02, rateHz, SMOOTHED_S);
        mostBehind = Math.min(
                MOST_BEHIND, Math.min(raw.capacity() / 4, narrow.means().capacity() / 2));
        wide = new Smoother(raw, 0.06, rateHz, WIDE_S);
        buildUp = new BuildUp(narrow.means(), ns(SEARCH_S), bridgedNs(narrow));
        slowBuildUp = new BuildUp(wide.means(), ns(SEARCH_S), bridgedNs(wide));
        periodS = 1 / rateHz;
        rest = new RestTracker(resolution, rateHz);
        stillness = new Stillness(narrow, rateHz);
        wait = new RestWait(raw, narrow, rest, stillness, config.minimumRiseN(), mostBehind, periodS);
        neededBuildUpNs = Math.max(0.017, 1.4 * periodS) * 1e9;
        stepNs = Math.max(0.050, 2.2 * periodS) * 1e9;
    }

    /** A smoother is silent for its span after a gap, on top of the gap itself. */
    private static long bridgedNs(Smoother smoother) {
        return ns(DetectorConfig.BRIDGED_GAP_S) + 2 * (long) smoother.halfSpanNs();
    }

    /** Takes the newest sample of the ring; tells whether there is a new smoothed one. */
    boolean add() {
        boundWide();
        return narrow.next();
    }

    /** Tells whether a batch may be put into the ring without looking at its samples one by one: {@link RestWait}. */
    boolean mayWait(SampleBatch batch) {
        boundWide();
        return state == State.RESTING && belowSinceNs == Long.MAX_VALUE && wait.mayWait(batch);
    }

    /** Follows the samples that have been let wait. */
    void catchUp() {
        wait.catchUp();
    }

    /** Makes what lets samples of open windows wait. */
    OpenWait openWait() {
        return new OpenWait(raw, narrow, stillness, mostBehind);
    }

    /** Nobody reads the wide means until force rises; but the samples that they begin with must not leave the ring before. */
    private void boundWide() {
        if (wide.behind() >= wideMostBehind) {
            wide.catchUpKept();
        }
    }

    /** Returns the newest smoothed force. */
    double meanN() {
        return narrow.newestN();
    }

    double restN() {
        return rest.levelN();
    }

    double noiseN() {
        return rest.noiseN();
    }

    /** Returns the height above rest that counts as a rise. */
    double thresholdN() {
        return Math.max(config.minimumRiseN(), config.noiseMultiple() * rest.noiseN());
    }

    /** Returns the back-dated onset of the rise that was seen. */
    long onsetNs() {
        double onset = hidden ? buildUp.startNs() - narrow.halfSpanNs() : buildUp.onsetNs(LOW, HIGH);
        return Math.max(notBeforeNs, (long) onset);
    }

    /** Returns its standard uncertainty: anywhere within the rise, or within the longest gap that is survived. */
    double onsetUNs() {
        return (hidden ? config.longestGapS() * 1e9 : buildUp.durationNs()) / Math.sqrt(12);
    }

    /** Takes a smoothed sample while no contraction is under way. */
    Sight next(long nowNs, double meanN) {
        switch (state) {
            case LEARNING -> {
                if (learning.add(nowNs, meanN)) {
                    rest.start(learning.levelN(), learning.noiseN());
                    startResting(nowNs);
                }
                return Sight.NOTHING;
            }
            case RESTING -> {
                if (meanN - rest.levelN() <= thresholdN()) {
                    follow(nowNs, meanN);
                    return Sight.NOTHING;
                }
                startRising(nowNs);
                return rise(nowNs, meanN);
            }
            case RISING -> {
                return rise(nowNs, meanN);
            }
        }
        throw new IllegalStateException("no such state: " + state);
    }

    private void follow(long nowNs, double meanN) {
        RestRun.followNewest(narrow, nowNs, rest, stillness);
        if (meanN - rest.levelN() >= -thresholdN()) {
            belowSinceNs = Long.MAX_VALUE;
        } else if (belowSinceNs == Long.MAX_VALUE) {
            belowSinceNs = nowNs;
            steadySinceNs = nowNs;
            steadyN = meanN;
        } else {
            followBelow(nowNs, meanN);
        }
    }

    /** A weight that was lifted leaves a steady level; a swing comes back, and must not pass for an effort then. */
    private void followBelow(long nowNs, double meanN) {
        if (Math.abs(meanN - steadyN) > thresholdN()) {
            steadySinceNs = nowNs;
            steadyN = meanN;
        }
        if (nowNs - steadySinceNs > LIFTED_NS || nowNs - belowSinceNs > SWING_NS) {
            rest.settle(nowNs + SETTLING_NS);
        }
    }

    private Sight rise(long nowNs, double meanN) {
        double heightN = meanN - rest.levelN();
        if (heightN < 0.5 * thresholdN()) {
            state = State.RESTING;
            return Sight.NOTHING;
        }
        buildUp.measure(rest.levelN(), heightN, LOW, HIGH, narrow.means().end() - 1, notBeforeNs);
        hidden = buildUp.hiddenByGap() && heightN > config.minimumPeakN();
        if (hidden) {
            return Sight.HIDDEN;
        }
        boolean builtUp = buildUp.startSeen() && buildUp.durationNs() >= neededBuildUpNs;
        if (builtUp || slowlyBuiltUp()) {
            return Sight.BUILD_UP;
        }
        if (nowNs - risingSinceNs > FLAT_NS) {
            adoptLevel(nowNs);
        }
        return Sight.NOTHING;
    }

    /** In noise the quick look can miss a slow rise; a mean over 60 ms sees it, and a step does not pass there either. */
    private boolean slowlyBuiltUp() {
        wide.catchUpKept();
        long newest = wide.means().end() - 1;
        double heightN = newest < 0 ? 0 : wide.means().forceN(newest) - rest.levelN();
        if (heightN < 0.7 * thresholdN()) {
            return false;
        }
        slowBuildUp.measure(rest.levelN(), heightN, LOW, HIGH, newest, notBeforeNs);
        return slowBuildUp.startSeen() && slowBuildUp.durationNs() >= SLOW_NS;
    }

    /** Tells whether an open window was a step so far: up at once, and flat since. */
    boolean wasStep(OpenWindow window) {
        wide.catchUpKept();
        return !stillRising(window)
                && roseNs(window, window.peakN()) < stepNs
                && roseNs(slowBuildUp, wide.means(), window, window.peakN())
                        < stepNs + ns(0.02); // Noise shortens the quick look.
    }

    private boolean stillRising(OpenWindow window) {
        TraceBuffer means = wide.means();
        long newest = means.end() - 1;
        long before = means.positionAtOrAfter(means.timeNs(newest) - ns(RISING_S));
        double grownN = means.forceN(newest) - means.forceN(before);
        return grownN > Math.max(RISING_SHARE * window.peakN(), 3 * rest.noiseN());
    }

    /** An open window begins. */
    void opened(long nowNs) {
        stillness.open(nowNs);
    }

    /**
     * Tells whether an open window is a weight: as still as one, and light and quickly laid down. Slow rises and large forces
     * get the benefit of the doubt for ten seconds.
     */
    boolean isWeight(OpenWindow window, long nowNs, double meanN) {
        if (!stillness.active(nowNs, meanN - window.restN())) {
            return false;
        }
        // An effort on top of the weight stands out, and is not to be lost with it.
        boolean alone = stillness.heightN() > ALONE_SHARE * stillness.highestN();
        boolean laidDown = window.peakN() < LIMB_N && roseNs(window, stillness.heightN()) < ns(LAID_S);
        return alone && (laidDown || stillness.gatheredS() >= STILL_FOR_LONG_S);
    }

    private double roseNs(OpenWindow window, double heightN) {
        return roseNs(buildUp, narrow.means(), window, heightN);
    }

    /** Returns how long the rise from 20 to 80 % of a height took, before the peak; infinite where it was not seen. */
    private double roseNs(BuildUp build, TraceBuffer means, OpenWindow window, double heightN) {
        long peak = Math.min(means.positionAtOrAfter(window.meanPeakNs()), means.end() - 1);
        build.measure(window.restN(), heightN, LOW, 0.8, peak, notBeforeNs);
        return build.startSeen() ? build.durationNs() : Double.POSITIVE_INFINITY;
    }

    /** Takes the level of the last 60 ms as rest: handling has ended on it. */
    void adoptLevel(long nowNs) {
        TraceBuffer means = narrow.means();
        long from = Math.min(means.positionAtOrAfter(nowNs - ns(0.06)), means.end() - 1);
        rest.moveTo(means.meanN(from, means.end()));
        startResting(nowNs);
    }

    /** Goes back to rest, whose level may move quickly at first. */
    void startResting(long nowNs) {
        state = State.RESTING;
        belowSinceNs = Long.MAX_VALUE;
        rest.settle(nowNs + SETTLING_NS);
    }

    /** Goes on with a rise that is known to have begun. */
    void startRising(long nowNs) {
        state = State.RISING;
        risingSinceNs = nowNs;
    }

    /** Samples are missing; to be called before the ring has those that follow, while none wait. */
    void passGap(double gapS) {
        wide.catchUpKept();
        learning.clear();
        if (state == State.RISING) {
            state = State.RESTING;
        }
        if (gapS > FORGET_S) {
            state = State.LEARNING;
        }
    }

    /** Looks at nothing before a time: it belongs to a finished contraction. */
    void notBefore(long timeNs) {
        notBeforeNs = timeNs;
    }

    /** Returns the time before which nothing is looked at. */
    long notBeforeNs() {
        return notBeforeNs;
    }

    /** Refers everything to a session zero that lies higher; to be called before the ring does, while none wait. */
    void shiftZero(double shiftN) {
        wide.catchUpKept();
        narrow.shiftZero(shiftN);
        wide.shiftZero(shiftN);
        rest.shiftZero(shiftN);
        learning.clear();
    }

    /** Forgets the trace, but not rest; to be called before the ring forgets. */
    void clearTrace() {
        catchUp();
        narrow.clear();
        wide.clear();
        learning.clear();
        notBeforeNs = Long.MIN_VALUE;
        if (state == State.RISING) {
            state = State.RESTING;
        }
    }

    /** Forgets everything. */
    void clear() {
        clearTrace();
        state = State.LEARNING;
    }

    /** Returns nanoseconds. */
    static long ns(double seconds) {
        return Math.round(seconds * 1e9);
    }
}
