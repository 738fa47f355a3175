package io.heldmark.decode;

/**
 * Places every samples message in the device's stream: samples lost before it, or a clock that began anew.
 *
 * <p><b>Method.</b> Sequence numbers tell how many messages are missing, ticks tell how many samples. With {@code next}
 * the tick at which the sample after the newest message was due, in units of the measured sample distance:
 *
 * <ul>
 *   <li>messages in order: missing samples are counted from 3/4 of a sample plus 5 % of the newest message on, so that a
 *       rate that is off by a few per cent makes no gap;
 *   <li>messages missing: the distance rounded, at least one sample a message.
 * </ul>
 *
 * <p>The clock began anew where the tick does not move forward; where the sequence restarted and the tick is not within
 * {@value #SAME_CLOCK_S} s of what the arrival lets expect; and where the tick moved forward by {@value #STEP_S} s more
 * than the missing messages can hold, the device does not report a loss, and the arrival contradicts by as much.
 *
 * <p>The sample distance is the declared one at first and follows the ticks of messages in order with a time constant of
 * 64 messages, within 10 % of the declared one.
 *
 * <p><b>Threading.</b> Single writer.
 */
final class FramePlacer {
    /** Agreement with arrival that shows that a tick counter ran on across a restart of the sequence, in seconds. */
    static final double SAME_CLOCK_S = 0.5;
    /** The same across a lost connection, whose first bytes may have waited longer, in seconds. */
    static final double SAME_CLOCK_AFTER_RECONNECT_S = 2;
    /** Forward jump that is a step of the clock and not a loss, in seconds. */
    static final double STEP_S = 0.1;

    private static final int MAX_SAMPLES_A_FRAME = 31;

    private final TickUnwrapper ticks;
    private final double tickRateHz;
    private final double stepTicks;
    private double declaredTicksPerSample;
    private double leastTicksPerSample;
    private double mostTicksPerSample;
    private double ticksPerSample;
    private boolean started;
    private boolean reconnected;
    private boolean bytesLost;
    private long newestTick;
    private int newestCount;
    private double dueTick;
    private boolean rateChanged;
    private boolean followsAnother;
    private long nextSampleIndex;

    /**
     * Makes a placer.
     *
     * @param tickRateHz rate of the tick counter, in hertz.
     * @param sampleRateHz declared sample rate, in hertz.
     */
    FramePlacer(double tickRateHz, double sampleRateHz) {
        this.tickRateHz = tickRateHz;
        stepTicks = STEP_S * tickRateHz;
        ticks = new TickUnwrapper(tickRateHz);
        declare(tickRateHz / sampleRateHz);
    }

    private void declare(double declared) {
        declaredTicksPerSample = declared;
        leastTicksPerSample = 0.9 * declared;
        mostTicksPerSample = 1.1 * declared;
        ticksPerSample = declared;
    }

    /** Takes over from the placer of another clock on this link: where that has placed a frame, the first one restarts. */
    void takeOverFrom(FramePlacer before) {
        followsAnother = before.started || before.followsAnother;
    }

    /** Takes note that the link went away and came back. */
    void onReconnect() {
        reconnected = true;
        nextSampleIndex = 0;
    }

    /** Takes the declared sample rate, in hertz, of the same device on the same ticks; another one begins anew. */
    void onSampleRate(double sampleRateHz) {
        double declared = tickRateHz / sampleRateHz;
        if (declared != declaredTicksPerSample) {
            declare(declared);
            rateChanged = true;
        }
    }

    /** Takes note that the station itself lost bytes: the sequence has begun anew, and samples may be missing. */
    void onBytesLost() {
        bytesLost = true;
    }

    /** Returns the unwrapped form of a tick that is not a sample's. */
    long unwrap(long tick, long arrivalNs) {
        return ticks.unwrap(tick, arrivalNs);
    }

    /**
     * Fills in the place of a frame whose other fields are set.
     *
     * @param frame the frame.
     * @param tick tick of its first sample, 32 bit.
     * @param missingFrames messages missing before it by their sequence.
     * @param sequenceRestarted whether the sequence began anew with it.
     * @param deviceLoss whether the device says that it lost samples before it.
     */
    void place(DecodedFrame frame, long tick, long missingFrames, boolean sequenceRestarted, boolean deviceLoss) {
        long unwrapped = ticks.unwrap(tick, frame.arrivalNs);
        frame.missingBefore = 0;
        frame.clockRestarted = started
                ? clockRestarted(frame, unwrapped, missingFrames, sequenceRestarted, deviceLoss)
                : followsAnother; // ticks of another counter
        if (frame.clockRestarted) {
            unwrapped = tick;
            frame.missingBefore = -1;
        } else if (started) {
            boolean whole = missingFrames == 0 && !deviceLoss && !bytesLost;
            boolean inOrder = whole && !sequenceRestarted && !reconnected && !rateChanged;
            frame.missingBefore = missing(unwrapped, missingFrames, inOrder);
            if (inOrder && frame.missingBefore == 0) {
                learnDistance(unwrapped);
            }
        }
        note(frame, unwrapped);
    }

    private boolean clockRestarted(
            DecodedFrame frame, long unwrapped, long missingFrames, boolean sequenceRestarted, boolean deviceLoss) {
        boolean standsStill = unwrapped == newestTick && newestCount * ticksPerSample > 1.5;
        if (unwrapped < newestTick || standsStill) {
            return true;
        }
        if (reconnected) {
            return offS(unwrapped, frame) > SAME_CLOCK_AFTER_RECONNECT_S;
        }
        if (sequenceRestarted) {
            return offS(unwrapped, frame) > SAME_CLOCK_S;
        }
        double mostTicks = missingFrames * MAX_SAMPLES_A_FRAME * ticksPerSample + stepTicks;
        return unwrapped - dueTick > mostTicks && !deviceLoss && !bytesLost && offS(unwrapped, frame) > STEP_S;
    }

    private double offS(long unwrapped, DecodedFrame frame) {
        return Math.abs(ticks.aheadS(unwrapped, frame.arrivalNs));
    }

    private long missing(long unwrapped, long missingFrames, boolean inOrder) {
        double ticksLate = unwrapped - dueTick;
        if (inOrder && ticksLate < 0.5 * ticksPerSample) {
            return 0; // seen without a division
        }
        double samples = ticksLate / ticksPerSample;
        if (inOrder && samples < 0.75 + 0.05 * newestCount) {
            return 0;
        }
        return Math.max(missingFrames, Math.round(samples));
    }

    private void learnDistance(long unwrapped) {
        double measured = (double) (unwrapped - newestTick) / newestCount;
        double next = ticksPerSample + (measured - ticksPerSample) / 64;
        ticksPerSample = next < leastTicksPerSample
                ? leastTicksPerSample
                : next > mostTicksPerSample ? mostTicksPerSample : next; // foreseen, which min and max are not
    }

    private void note(DecodedFrame frame, long unwrapped) {
        nextSampleIndex += reconnected ? 0 : Math.max(0, frame.missingBefore);
        frame.firstTick = unwrapped;
        frame.firstSampleIndex = nextSampleIndex;
        frame.ticksPerSample = ticksPerSample;
        nextSampleIndex += frame.sampleCount;
        newestTick = unwrapped;
        newestCount = frame.sampleCount;
        dueTick = newestTick + newestCount * ticksPerSample;
        ticks.note(unwrapped, frame.arrivalNs);
        started = true;
        reconnected = false;
        bytesLost = false;
        rateChanged = false;
    }
}
