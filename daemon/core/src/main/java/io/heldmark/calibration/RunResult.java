package io.heldmark.calibration;

/**
 * The zeros of one run.
 *
 * @param run its name.
 * @param mounting its mounting; empty where nobody says.
 * @param zeroBeforeCounts zero before the loads; NaN where it was not read.
 * @param zeroAfterCounts zero after the loads; NaN where it was not read.
 * @param zeroErrorPercent f0, see {@link LoadStatistics}; NaN where a zero was not read.
 */
public record RunResult(
        String run, String mounting, double zeroBeforeCounts, double zeroAfterCounts, double zeroErrorPercent) {
    static RunResult of(Run run) {
        return new RunResult(run.name(), run.mounting(), run.zeroBefore(), run.zeroAfter(), run.zeroErrorPercent());
    }
}
