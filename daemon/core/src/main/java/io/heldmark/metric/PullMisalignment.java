package io.heldmark.metric;

/**
 * A pull that is up to an angle A off the line on which it should act: an error of one sign.
 *
 * <p><b>Model.</b> What counts is F cos a, and the cell reads F: the force along the intended line can only be lower, by 1 - cos A
 * at most (1.5 % at 10 degrees). With a anywhere from 0 to A alike (rectangular; only the limit is known):
 *
 * <pre>
 * mean of 1 - cos a       b  = 1 - sin A / A                                  0.51 % at 10 degrees
 * its standard deviation  s  = sqrt(1/2 + sin 2A / (4 A) - (sin A / A)^2)      0.45 %
 * root mean square        r  = sqrt(3/2 + sin 2A / (4 A) - 2 sin A / A)        0.68 %
 * </pre>
 *
 * <p><b>Treatment.</b> Values are not corrected: the station shows what the cell reads. The standard uncertainty is then r, which
 * holds the uncorrected mean as well (r^2 = b^2 + s^2); the interval is one-sided, from {@code -worst} to 0. Whoever corrects
 * by the mean b has s left.
 *
 * <p><b>Source.</b> Rectangular distribution: GUM (JCGM 100:2008) 4.3.7; a known effect that is not corrected: the same, F.2.4.5,
 * simplified to the root mean square. Cosine errors are one-sided: the same, F.2.4.4.
 *
 * @param limitDeg largest angle A, 0 to below 90 degrees.
 */
public record PullMisalignment(double limitDeg) {
    private static final double SMALL_RAD = 0.02;

    /** Rejects angles without meaning. */
    public PullMisalignment {
        if (!(limitDeg >= 0 && limitDeg < 90)) {
            throw new IllegalArgumentException("limitDeg is 0 to below 90: limitDeg=" + limitDeg);
        }
    }

    /** Returns the largest relative error, as a positive number. */
    public double worst() {
        return 1 - StrictMath.cos(radians());
    }

    /** Returns the mean relative error b, as a positive number. */
    public double mean() {
        double a = radians();
        return a < SMALL_RAD ? a * a / 6 : 1 - StrictMath.sin(a) / a;
    }

    /** Returns the standard deviation s of the relative error. */
    public double standardDeviation() {
        double rms = rootMeanSquare();
        return Math.sqrt(Math.max(0, rms * rms - mean() * mean()));
    }

    /** Returns the root mean square r of the relative error: the relative standard uncertainty of an uncorrected value. */
    public double rootMeanSquare() {
        double a = radians();
        if (a < SMALL_RAD) {
            return a * a / Math.sqrt(20); // First term of the series: the closed form loses its digits.
        }
        double square = 1.5 + StrictMath.sin(2 * a) / (4 * a) - 2 * StrictMath.sin(a) / a;
        return Math.sqrt(Math.max(0, square));
    }

    private double radians() {
        return limitDeg * StrictMath.PI / 180;
    }
}
