package io.heldmark.cell;

/**
 * Noise of a cell that nobody touches, in counts.
 *
 * @param samples how many samples it is taken from.
 * @param meanCounts mean.
 * @param slope change from one sample to the next along that line.
 * @param rms standard deviation about the straight line through the samples, so that drift does not count as noise.
 * @param peakToPeak highest less lowest residual about that line.
 * @param whiteRms standard deviation that the differences of neighbours tell; as large as {@code rms} for white noise,
 *     much smaller where the signal itself moves.
 * @param effectiveSamples as how many independent samples they count for {@code rms}, see {@link EffectiveCount}.
 */
public record NoiseFigures(
        int samples,
        double meanCounts,
        double slope,
        double rms,
        double peakToPeak,
        double whiteRms,
        double effectiveSamples) {
    /** Counts that scatter by less do not move: the rounding of anything that does is larger. */
    static final double STILL_COUNTS = 0.05;

    /** Standard deviations within which all but one of about a thousand samples of normal noise lie. */
    public static final double PEAK_TO_PEAK_SIGMAS = 6.6;

    /** Signals whose noise is this many times what neighbours tell are moved by something. */
    private static final double MOVED = 4;

    /**
     * Takes the figures.
     *
     * @param x counts, evenly spaced; at least 3.
     */
    public static NoiseFigures of(double[] x) {
        int n = x.length;
        if (n < 3) {
            throw new IllegalArgumentException("noise needs at least 3 samples, not " + n);
        }
        StraightLine line = StraightLine.through(x);
        double[] residuals = new double[n];
        double squares = 0;
        double differences = 0;
        double low = Double.POSITIVE_INFINITY;
        double high = Double.NEGATIVE_INFINITY;
        for (int i = 0; i < n; i++) {
            double residual = line.residual(i, x[i]);
            residuals[i] = residual;
            squares += residual * residual;
            low = Math.min(low, residual);
            high = Math.max(high, residual);
            if (i > 0) {
                double step = x[i] - x[i - 1] - line.slope();
                differences += step * step;
            }
        }
        return new NoiseFigures(
                n,
                line.mean(),
                line.slope(),
                Math.sqrt(squares / (n - 2)),
                high - low,
                Math.sqrt(differences / (2.0 * (n - 1))),
                EffectiveCount.of(residuals));
    }

    /** Returns the steps that stand out of the noise: {@value #PEAK_TO_PEAK_SIGMAS} times the larger of noise and rounding. */
    public double noiseFreeCounts() {
        return PEAK_TO_PEAK_SIGMAS * Math.max(rms, 1 / Math.sqrt(12));
    }

    /**
     * Returns the standard uncertainty of {@code rms}, for normal noise: rms / sqrt(2 (n* - 1)), GUM E.4.3 with the effective
     * number of samples.
     */
    public double rmsStandardUncertainty() {
        return rms / Math.sqrt(2 * Math.max(1, effectiveSamples - 1));
    }

    /**
     * Tells whether the signal moved by more than its noise: somebody touches the cell, or it drifts in waves; or it runs along a
     * line without any scatter, as a generator does.
     */
    public boolean moved() {
        boolean runs = rms < STILL_COUNTS && Math.abs(slope) * (samples - 1) >= 1;
        return runs || rms > MOVED * Math.max(whiteRms, 1 / Math.sqrt(12));
    }
}
