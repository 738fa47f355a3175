package io.heldmark.metric;

import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Window;

/**
 * The device's standard uncertainty of a force.
 *
 * <p><b>Formula.</b> For the mean F of n samples, of which each {@code c} count as one independent sample:
 *
 * <pre>u^2(F) = (uCal F)^2 + uZero^2 + resolution^2 / 12 + noise^2 c / n</pre>
 *
 * with n at least c. Terms add in squares because calibration, zero, rounding and noise have nothing to do with one
 * another. Rounding is not averaged away: a quiet trace can sit on one count.
 *
 * <p><b>Degenerate.</b> Without a known calibration uncertainty its term is left out, {@link #calibrationKnown()} is
 * false and the contraction carries {@code calibration-unknown}.
 *
 * <p><b>Source.</b> GUM (JCGM 100:2008) 4.3.7 (rectangular), 5.1.2 (combination), 4.2.3 (mean), H.2 (units); for
 * correlated samples the integrated autocorrelation, from memory (Bayley and Hammersley 1946).
 */
public final class DeviceUncertainty {
    private final double calibrationRelativeU;
    private final double zeroU;
    private final double resolution;
    private final double bandwidthHz;

    /**
     * Makes the uncertainty model of one channel.
     *
     * @param calibrationRelativeU relative standard uncertainty of the slope; NaN where unknown.
     * @param zeroU standard uncertainty of the session zero, not negative.
     * @param resolution size of one count, not negative.
     * @param bandwidthHz bandwidth of the converter; 0 where unknown. A stretch of T seconds holds at most
     *     max(1, 2 bandwidth T) independent samples.
     */
    public DeviceUncertainty(double calibrationRelativeU, double zeroU, double resolution, double bandwidthHz) {
        this.calibrationRelativeU = calibrationRelativeU;
        this.zeroU = zeroU;
        this.resolution = resolution;
        this.bandwidthHz = bandwidthHz;
    }

    /** Returns the model of a channel with the given standard uncertainty of its session zero. */
    public static DeviceUncertainty of(ChannelInfo channel, double zeroU) {
        return new DeviceUncertainty(
                channel.calibrationRelativeU(), zeroU, channel.resolution(), channel.bandwidthHz());
    }

    /** Returns the model that belongs to a window. */
    public static DeviceUncertainty of(Window window) {
        return of(window.channel(), window.zeroStandardUncertaintyN());
    }

    /** Tells whether the uncertainty of the calibration is known. */
    public boolean calibrationKnown() {
        return calibrationRelativeU >= 0;
    }

    /** Returns the relative standard uncertainty of the slope; 0 where unknown. */
    public double calibrationRelativeU() {
        return calibrationKnown() ? calibrationRelativeU : 0;
    }

    /** Returns the variance of everything that hits all samples of a stretch alike: zero and resolution. */
    public double commonVariance() {
        return zeroU * zeroU + resolution * resolution / 12;
    }

    /** Returns the number of independent samples among n samples over a stretch of time. */
    public double independentSamples(double n, double correlationSamples, double stretchS) {
        double independent = n / Math.max(1, correlationSamples);
        if (bandwidthHz > 0) {
            independent = Math.min(independent, 2 * bandwidthHz * stretchS);
        }
        return Math.max(1, independent);
    }

    /**
     * Returns the standard uncertainty of a mean force.
     *
     * @param forceN the mean.
     * @param noiseN standard deviation of single samples.
     * @param independent independent samples in the mean, at least 1.
     */
    public double ofMean(double forceN, double noiseN, double independent) {
        double calibration = calibrationRelativeU() * forceN;
        return Math.sqrt(calibration * calibration + commonVariance() + noiseN * noiseN / independent);
    }
}
