package io.heldmark.metric;

import io.heldmark.model.ChannelInfo;
import io.heldmark.model.UncertaintyBudget;
import io.heldmark.model.UncertaintySource;
import io.heldmark.model.Window;
import io.heldmark.model.ZeroReference;

/**
 * The device's standard uncertainty of what is read from the trace of one cell.
 *
 * <p><b>Terms.</b> Calibration and load beyond the calibrated range ({@link CalibrationTerm}); the session zero; its drift since,
 * {@code limit x hours / sqrt(3)}; rounding to one count, {@code resolution / sqrt(12)}; noise of single samples over the root
 * of the independent ones; the instant, {@code slope x u(time)}; the direction of the pull ({@link PullMisalignment}).
 *
 * <p><b>Forms.</b> {@link #mean}, {@link #at}: a force. {@link #difference}, {@link #slope}: two forces of one contraction; zero and
 * drift cancel, both are rounded. {@link #integral}: area above the resting level. Torque, per mass and ratios: {@link
 * Propagation}.
 *
 * <p>Rounding is not averaged away: a quiet trace can sit on one count. The limit of the drift is the channel's, or, where it
 * is not known, 0.02 % of the rated load per hour, or 0.5 N per hour where that is not known either (common practice, no
 * published source).
 *
 * <p><b>Degenerate.</b> Without a known calibration uncertainty its term is left out, {@link #calibrationKnown()} is false and the
 * contraction carries {@code calibration-unknown}. Without a session zero there is no drift to state and the contraction
 * carries {@code no-zero}.
 *
 * <p><b>Source.</b> GUM (JCGM 100:2008) 4.3.7 (rectangular), 5.1.2 and 5.2.2 (combination), 4.2.3 (mean); for correlated samples
 * the integrated autocorrelation, from memory (Bayley and Hammersley 1946).
 */
public final class DeviceUncertainty {
    private static final double RATED_SHARE_PER_HOUR = 0.0002;
    private static final double DRIFT_N_PER_HOUR = 0.5;
    private static final double HOUR_NS = 3.6e12;

    private final CalibrationTerm calibration;
    private final double zeroU;
    private final double driftU;
    private final double resolution;
    private final double bandwidthHz;
    private final Noise noise;
    private final double misalignment;

    /** Noise of single samples, how many count as one, and how well it is known. */
    private record Noise(double standardDeviationN, double correlationSamples, double degreesOfFreedom) {}

    private DeviceUncertainty(ChannelInfo channel, ZeroReference zero, long atNs, Noise noise, double misalignment) {
        calibration = new CalibrationTerm(channel, zero);
        zeroU = zero.standardUncertaintyN();
        driftU = zero.taken()
                ? driftLimitNPerHour(channel) * Math.max(0, atNs - zero.atNs()) / HOUR_NS / Math.sqrt(3)
                : 0;
        resolution = channel.resolution();
        bandwidthHz = channel.bandwidthHz();
        this.noise = noise;
        this.misalignment = misalignment;
    }

    /** Returns the uncertainty of a channel's readings at a time, without noise. */
    public static DeviceUncertainty of(ChannelInfo channel, ZeroReference zero, long atNs) {
        return new DeviceUncertainty(channel, zero, atNs, new Noise(0, 1, Double.POSITIVE_INFINITY), 0);
    }

    /** Returns the uncertainty that belongs to a window: noise from the rest before it, drift up to its onset. */
    public static DeviceUncertainty of(Window window) {
        double correlation = Math.max(1, window.restingCorrelationSamples());
        double known = Math.max(1, Samples.restingSamples(window) / correlation - 1);
        Noise noise = new Noise(window.restingNoiseN(), correlation, known);
        double limitDeg = window.conditions().pullAngleLimitDeg();
        double misalignment = limitDeg > 0 ? new PullMisalignment(limitDeg).rootMeanSquare() : 0;
        return new DeviceUncertainty(window.channel(), window.zero(), window.onsetNs(), noise, misalignment);
    }

    /** Returns the most that a channel's zero drifts in an hour, in newtons. */
    public static double driftLimitNPerHour(ChannelInfo channel) {
        double stated = channel.cell().driftLimitNPerHour();
        if (stated >= 0) {
            return stated;
        }
        return channel.ratedLoadN() > 0 ? RATED_SHARE_PER_HOUR * channel.ratedLoadN() : DRIFT_N_PER_HOUR;
    }

    /** Tells whether the uncertainty of the calibration is known. */
    public boolean calibrationKnown() {
        return calibration.known();
    }

    /** Tells whether a force lies beyond the range of the calibration. */
    public boolean beyondRange(double forceN) {
        return calibration.beyondRange(forceN) > 0;
    }

    /** Returns the number of independent samples among n samples over a stretch of time, at most 2 bandwidth time. */
    public double independentSamples(double n, double correlationSamples, double stretchS) {
        double independent = n / Math.max(1, correlationSamples);
        if (bandwidthHz > 0) {
            independent = Math.min(independent, 2 * bandwidthHz * stretchS);
        }
        return Math.max(1, independent);
    }

    /** Returns the noise variance of a reading of the window's own trace. */
    public double noiseVariance(Reading r) {
        double independent = independentSamples(r.samples(), noise.correlationSamples, r.spanS());
        return noise.standardDeviationN * noise.standardDeviationN / independent;
    }

    /**
     * Returns the standard uncertainty of a mean force.
     *
     * @param forceN the mean.
     * @param noiseN standard deviation of single samples.
     * @param independent independent samples in the mean, at least 1.
     */
    public double ofMean(double forceN, double noiseN, double independent) {
        UncertaintyBudget.Builder b = level(forceN);
        return b.add(UncertaintySource.NOISE, noiseN / Math.sqrt(independent))
                .build()
                .standardUncertainty();
    }

    /** Returns the budget of a mean of n samples over a time. */
    public UncertaintyBudget mean(double forceN, double samples, double spanS) {
        return at(Reading.mean(forceN, samples, spanS), 0);
    }

    /**
     * Returns the budget of a force read at an instant.
     *
     * @param reading the force.
     * @param timeU standard uncertainty of the instant, in seconds.
     */
    public UncertaintyBudget at(Reading reading, double timeU) {
        UncertaintyBudget.Builder b = level(reading.forceN());
        addNoise(b, Math.sqrt(noiseVariance(reading)));
        return b.add(UncertaintySource.TIMING, reading.slopeNPerS() * timeU).build();
    }

    /**
     * Returns the budget of a difference of two forces of one contraction.
     *
     * @param to the later force.
     * @param from the earlier one, or the resting level.
     * @param timeU standard uncertainty, in seconds, of the instant that both are counted from.
     */
    public UncertaintyBudget difference(Reading to, Reading from, double timeU) {
        UncertaintyBudget.Builder b = rise(to.forceN(), from.forceN());
        b.add(UncertaintySource.RESOLUTION, resolution / Math.sqrt(6));
        addNoise(b, Math.sqrt(noiseVariance(to) + noiseVariance(from)));
        return b.add(UncertaintySource.TIMING, (to.slopeNPerS() - from.slopeNPerS()) * timeU)
                .build();
    }

    /** Returns the budget of a mean rate of change: a {@link #difference} over a time that is exactly known. */
    public UncertaintyBudget slope(Reading to, Reading from, double overS, double timeU) {
        return difference(to, from, timeU).scaled(1 / overS);
    }

    /**
     * Returns the budget of an integral of the force above the resting level.
     *
     * @param impulseNs the integral, in newton seconds.
     * @param lengthS its length.
     * @param samples number of samples in it.
     * @param base the resting level.
     * @param highestN highest force in it, for what lies beyond the calibrated range (taken for all of it: at most so much).
     * @param timingU what its boundaries contribute, in newton seconds.
     */
    public UncertaintyBudget integral(
            double impulseNs, double lengthS, double samples, Reading base, double highestN, double timingU) {
        double meanN = base.forceN() + impulseNs / lengthS;
        UncertaintyBudget.Builder b = UncertaintyBudget.builder()
                .add(UncertaintySource.CALIBRATION, lengthS * calibration.ofDifference(meanN, base.forceN()))
                .add(UncertaintySource.BEYOND_RANGE, lengthS * calibration.beyondRange(highestN))
                .add(UncertaintySource.PULL_MISALIGNMENT, misalignment * impulseNs)
                .add(UncertaintySource.RESOLUTION, lengthS * resolution / Math.sqrt(12))
                .add(UncertaintySource.BASE, lengthS * Math.sqrt(noiseVariance(base)), noise.degreesOfFreedom)
                .add(UncertaintySource.TIMING, timingU);
        addNoise(b, lengthS * Math.sqrt(noiseVariance(Reading.mean(meanN, samples, lengthS))));
        return b.build();
    }

    private UncertaintyBudget.Builder level(double forceN) {
        return UncertaintyBudget.builder()
                .add(UncertaintySource.CALIBRATION, calibration.of(forceN))
                .add(UncertaintySource.BEYOND_RANGE, calibration.beyondRange(forceN))
                .add(UncertaintySource.ZERO, zeroU)
                .add(UncertaintySource.DRIFT, driftU)
                .add(UncertaintySource.RESOLUTION, resolution / Math.sqrt(12))
                .add(UncertaintySource.PULL_MISALIGNMENT, misalignment * forceN);
    }

    private UncertaintyBudget.Builder rise(double toN, double fromN) {
        return UncertaintyBudget.builder()
                .add(UncertaintySource.CALIBRATION, calibration.ofDifference(toN, fromN))
                .add(UncertaintySource.BEYOND_RANGE, calibration.beyondRange(toN) - calibration.beyondRange(fromN))
                .add(UncertaintySource.PULL_MISALIGNMENT, misalignment * (toN - fromN));
    }

    private void addNoise(UncertaintyBudget.Builder b, double noiseU) {
        b.add(UncertaintySource.NOISE, noiseU, noise.degreesOfFreedom);
    }
}
