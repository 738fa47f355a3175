package io.heldmark.simulator.truth;

import io.heldmark.simulator.math.Sinusoids;
import java.util.ArrayList;
import java.util.List;

/**
 * The true relation of a device's ticks to true time.
 *
 * <p><b>Formula.</b> Device time in seconds at true time t: {@code d(t) = t (1 + 1e-6 offsetPpm) + 1e-6 W(t)}, W the integral
 * from 0 to t of the wander in parts per million, a sum of sinusoids. In a segment that began at true time {@code fromS} with
 * tick {@code fromTick}: {@code tick(t) = fromTick + (d(t) - d(fromS)) tickRateHz}. The tick counter holds the whole part,
 * modulo 2^32; here it is not wrapped, so that it grows through a segment. A segment begins at power-up, at a step of the
 * counter and at a reboot.
 */
public final class ClockTruth {
    private static final double SETTLED_S = 1e-9;

    private final double tickRateHz;
    private final double offsetPpm;
    private final Sinusoids wanderPpm;
    private final List<Segment> segments = new ArrayList<>();

    /**
     * A stretch over which the tick counter runs without a break.
     *
     * @param fromS true time of its beginning, in seconds.
     * @param fromTick tick at that time; may have a fraction.
     * @param reason {@code power-up}, {@code step} or {@code reboot}.
     */
    public record Segment(double fromS, double fromTick, String reason) {}

    /**
     * Makes a clock that has no segment yet.
     *
     * @param tickRateHz nominal rate of the counter, in hertz.
     * @param offsetPpm constant error of the rate, in parts per million; positive runs fast.
     * @param wanderPpm wander of the rate, in parts per million over time in seconds.
     */
    public ClockTruth(double tickRateHz, double offsetPpm, Sinusoids wanderPpm) {
        this.tickRateHz = tickRateHz;
        this.offsetPpm = offsetPpm;
        this.wanderPpm = wanderPpm;
    }

    /**
     * Begins a segment.
     *
     * @throws IllegalArgumentException if it begins before the last one.
     */
    public void begin(double fromS, double fromTick, String reason) {
        if (!segments.isEmpty() && fromS < last().fromS()) {
            throw new IllegalArgumentException("segments must follow each other: fromS=" + fromS);
        }
        segments.add(new Segment(fromS, fromTick, reason));
    }

    /** Returns a tick within the counter's range of 32 bits, so that a segment begins with what the counter shows. */
    public static double wrapped(double tick) {
        return tick - Math.floor(tick / 0x1p32) * 0x1p32;
    }

    /** Returns device time at a true time, both in seconds; no segment plays a part. */
    public double deviceS(double trueS) {
        return trueS + 1e-6 * (offsetPpm * trueS + wanderPpm.integral(trueS));
    }

    /** Returns the true time of a device time, both in seconds. */
    public double trueOfDeviceS(double deviceS) {
        double trueS = deviceS / (1 + 1e-6 * offsetPpm);
        double changeS = wanderPpm.terms() > 0 ? 1 : 0;
        // The wander is at most 1e-4 of a step, so that each round gains four digits and more.
        while (Math.abs(changeS) > SETTLED_S) {
            double nextS = (deviceS - 1e-6 * wanderPpm.integral(trueS)) / (1 + 1e-6 * offsetPpm);
            changeS = nextS - trueS;
            trueS = nextS;
        }
        return trueS;
    }

    /** Returns the tick at a true time, not wrapped, with its fraction. */
    public double tick(double trueS) {
        Segment segment = segments.get(segmentAt(trueS));
        return segment.fromTick() + (deviceS(trueS) - deviceS(segment.fromS())) * tickRateHz;
    }

    /** Returns what the device's counter shows at a true time: whole ticks, wrapped to 32 bit. */
    public long counter(double trueS) {
        return (long) Math.floor(tick(trueS)) & 0xFFFF_FFFFL;
    }

    /**
     * Returns the true time of a tick.
     *
     * @param segment index of the segment that the tick belongs to.
     * @param tick the tick, unwrapped from the segment's first one on.
     * @return true time in seconds.
     */
    public double trueS(int segment, double tick) {
        Segment s = segments.get(segment);
        return trueOfDeviceS(deviceS(s.fromS()) + (tick - s.fromTick()) / tickRateHz);
    }

    /** Returns the index of the segment that holds a true time. */
    public int segmentAt(double trueS) {
        int index = segments.size() - 1;
        while (index > 0 && segments.get(index).fromS() > trueS) {
            index--;
        }
        return index;
    }

    /** Returns the error of the clock's rate at a true time, in parts per million. */
    public double ppm(double trueS) {
        return offsetPpm + wanderPpm.value(trueS);
    }

    /** Returns the segments so far. */
    public List<Segment> segments() {
        return List.copyOf(segments);
    }

    /** Returns the nominal rate of the counter, in hertz. */
    public double tickRateHz() {
        return tickRateHz;
    }

    /** Returns the constant error of the rate, in parts per million. */
    public double offsetPpm() {
        return offsetPpm;
    }

    /** Returns the wander of the rate, in parts per million. */
    public Sinusoids wanderPpm() {
        return wanderPpm;
    }

    private Segment last() {
        return segments.get(segments.size() - 1);
    }
}
