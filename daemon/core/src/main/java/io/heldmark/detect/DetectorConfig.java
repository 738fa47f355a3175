package io.heldmark.detect;

/**
 * Thresholds of the contraction detector; their reasons and the evidence stand in {@code docs/detection.md}.
 *
 * @param minimumRiseN rise above rest that is looked at, over 0 N.
 * @param noiseMultiple the same as a multiple of the resting noise, 3 to 20; the larger of the two holds.
 * @param minimumPeakN rise above rest that a window must reach to be a contraction, at least minimumRiseN.
 * @param minimumWidthS time above half the peak that a window must last to be a contraction, 0 to 2 s.
 * @param longestGapS longest stretch of missing samples that a contraction survives, 0.02 to 5 s.
 * @param longestS longest contraction, 5 to 600 s; a longer one is cut and flagged.
 */
public record DetectorConfig(
        double minimumRiseN,
        double noiseMultiple,
        double minimumPeakN,
        double minimumWidthS,
        double longestGapS,
        double longestS) {
    /**
     * Longest stretch of missing samples across which a rise, a release or a rest is still seen, in seconds: a lost message
     * or two, and shorter than the quickest rise of a muscle. Common practice, no published source.
     */
    static final double BRIDGED_GAP_S = 0.05;

    /** Rejects settings under which the method has no meaning. */
    public DetectorConfig {
        require(minimumRiseN > 0 && minimumRiseN <= 1e4, "minimumRiseN is over 0", minimumRiseN);
        require(noiseMultiple >= 3 && noiseMultiple <= 20, "noiseMultiple is 3 to 20", noiseMultiple);
        require(minimumPeakN >= minimumRiseN && minimumPeakN <= 1e5, "minimumPeakN >= minimumRiseN", minimumPeakN);
        require(minimumWidthS >= 0 && minimumWidthS <= 2, "minimumWidthS is 0 to 2", minimumWidthS);
        require(longestGapS >= 0.02 && longestGapS <= 5, "longestGapS is 0.02 to 5", longestGapS);
        require(longestS >= 5 && longestS <= 600, "longestS is 5 to 600", longestS);
    }

    /** Returns the height above rest that counts as a rise where the resting noise is that large. */
    double riseN(double noiseN) {
        return Math.max(minimumRiseN, noiseMultiple * noiseN);
    }

    /** Returns the defaults. */
    public static DetectorConfig defaults() {
        return new DetectorConfig(5, 5.5, 15, 0.25, 0.5, 120);
    }

    private static void require(boolean holds, String rule, double value) {
        if (!holds) {
            throw new IllegalArgumentException(rule + ": " + value);
        }
    }
}
