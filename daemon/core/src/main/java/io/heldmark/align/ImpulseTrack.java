package io.heldmark.align;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * What one cell shows while a knock is waited for, and the knocks in it.
 *
 * <p><b>Rule.</b> A knock begins where the force changes by more than the trigger within {@value #RISE_S} s. Its base is the mean of
 * the quarter of a second before; what rings on for {@value #RING_S} s belongs to it. The trigger is {@value #TRIGGER_N} N, or
 * {@value #TRIGGER_SDS} times the noise where that is more. The noise is the median of the differences between neighbours,
 * divided by 0.954: the value for white Gaussian noise, which a knock hardly moves. The rule is the project's, no published
 * source.
 *
 * <p><b>Bounds.</b> What does not fit any more is left out; the capacity is that of the longest wait.
 *
 * <p><b>Threading.</b> Single writer; nothing is allocated while samples come.
 */
public final class ImpulseTrack {
    static final double RISE_S = 0.02;
    static final double RING_S = 0.3;
    static final double BASE_S = 0.25;
    static final double TRIGGER_N = 2;
    static final double TRIGGER_SDS = 10;

    private static final double NOISE_S = 0.5;
    private static final double HELD_SHARE = 0.3;
    private static final double HELD_MEAN_S = 0.05;

    private final double periodNs;
    private final double[] timeNs;
    private final double[] forceN;
    private final boolean[] broken;
    private final boolean[] clipped;
    private int count;

    /**
     * A knock on one cell.
     *
     * @param at index of the sample that triggered.
     * @param baseN force before it.
     * @param peakN greatest distance from that, without sign.
     * @param held whether the force stayed: a push, no knock.
     * @param clipped whether the converter was at the end of its range within it.
     * @param broken whether samples are missing within it.
     */
    public record Knock(int at, double baseN, double peakN, boolean held, boolean clipped, boolean broken) {}

    /**
     * Makes an empty track.
     *
     * @param sampleRateHz nominal rate of the channel.
     * @param longestS longest wait.
     */
    public ImpulseTrack(double sampleRateHz, double longestS) {
        periodNs = 1e9 / sampleRateHz;
        int capacity = (int) Math.ceil(1.1 * longestS * sampleRateHz) + 64;
        timeNs = new double[capacity];
        forceN = new double[capacity];
        broken = new boolean[capacity];
        clipped = new boolean[capacity];
    }

    /** Takes a sample: its time as the clock's estimate has it, and the force. */
    public void add(double atNs, double newtons, boolean gapBefore, boolean overload) {
        if (count < timeNs.length) {
            timeNs[count] = atNs;
            forceN[count] = newtons;
            broken[count] = gapBefore;
            clipped[count++] = overload;
        }
    }

    /** Returns the number of samples. */
    public int count() {
        return count;
    }

    /** Returns the time of a sample, in nanoseconds. */
    public double timeNs(int i) {
        return timeNs[i];
    }

    /** Returns the force of a sample, in newtons. */
    public double forceN(int i) {
        return forceN[i];
    }

    /** Returns the nominal distance of samples, in nanoseconds. */
    public double periodNs() {
        return periodNs;
    }

    /** Returns how many samples a time holds, at least one. */
    int samples(double seconds) {
        return (int) Math.max(1, Math.round(seconds * 1e9 / periodNs));
    }

    /** Returns the index of the newest sample at or before a time; -1 where all are later. */
    int indexAt(double atNs) {
        int at = Arrays.binarySearch(timeNs, 0, count, atNs);
        return at >= 0 ? at : -at - 2;
    }

    /** Returns the noise, one standard deviation, in newtons; NaN before half a second of samples. */
    public double noiseN() {
        int n = samples(NOISE_S);
        if (count <= n) {
            return Double.NaN;
        }
        double[] steps = new double[n];
        for (int i = 0; i < n; i++) {
            steps[i] = Math.abs(forceN[i + 1] - forceN[i]);
        }
        Arrays.sort(steps);
        return steps[n / 2] / 0.954;
    }

    /** Returns the knocks that are over, by time; none before half a second of samples. */
    public List<Knock> knocks() {
        List<Knock> found = new ArrayList<>();
        double noiseN = noiseN();
        if (Double.isNaN(noiseN)) {
            return found;
        }
        double triggerN = Math.max(TRIGGER_N, TRIGGER_SDS * noiseN);
        int rise = samples(RISE_S);
        int ring = samples(RING_S);
        for (int i = samples(BASE_S) + rise; i + ring + samples(HELD_MEAN_S) < count; i++) {
            if (Math.abs(forceN[i] - forceN[i - rise]) > triggerN) {
                found.add(knock(i, rise, ring));
                i += ring;
            }
        }
        return found;
    }

    private Knock knock(int at, int rise, int ring) {
        double baseN = mean(at - rise - samples(BASE_S), at - rise);
        double peakN = 0;
        boolean cut = false;
        boolean gap = false;
        for (int i = at - rise; i <= at + ring; i++) {
            peakN = Math.max(peakN, Math.abs(forceN[i] - baseN));
            cut |= clipped[i];
            gap |= broken[i];
        }
        double afterN = mean(at + ring, at + ring + samples(HELD_MEAN_S)) - baseN;
        return new Knock(at, baseN, peakN, Math.abs(afterN) > HELD_SHARE * peakN, cut, gap);
    }

    private double mean(int from, int to) {
        double sum = 0;
        for (int i = from; i < to; i++) {
            sum += forceN[i];
        }
        return sum / (to - from);
    }

    /**
     * Returns the force at a time, on the cubic through four samples that are taken as evenly spaced (Catmull and Rom 1974, from
     * memory), and its slope.
     *
     * @param atNs the time.
     * @param out gets the force in newtons and the slope in newtons per nanosecond.
     * @return false where there are no four samples about it.
     */
    boolean interpolate(double atNs, double[] out) {
        int i = indexAt(atNs);
        if (i < 1 || i + 2 >= count) {
            return false;
        }
        double stepNs = timeNs[i + 1] - timeNs[i];
        double u = (atNs - timeNs[i]) / stepNs;
        double a = forceN[i - 1];
        double b = forceN[i];
        double c = forceN[i + 1];
        double d = forceN[i + 2];
        double c1 = (c - a) / 2;
        double c2 = a - 2.5 * b + 2 * c - d / 2;
        double c3 = (d - a) / 2 + 1.5 * (b - c);
        out[0] = b + u * (c1 + u * (c2 + u * c3));
        out[1] = (c1 + u * (2 * c2 + 3 * u * c3)) / stepNs;
        return true;
    }
}
