package io.heldmark.detect;

/**
 * Learns level and noise of rest from the first quiet 0.3 s (noise as the scatter about the mean). A restless stretch is
 * dropped and the next one tried; after 3 s of restlessness the last stretch is taken all the same, for the level follows
 * later. A stretch of 40 ms or more that is very quiet and then left is rest as well: recordings of one trial are often
 * cut short before it. Its noise is taken twice, for so few samples say little of it. Mean and variance by Welford
 * (1962), Technometrics 4(3), 419-420, doi:10.1080/00401706.1962.10490022.
 */
final class Learning {
    private static final long SPAN_NS = 300_000_000L;
    private static final long PATIENCE_NS = 3_000_000_000L;
    private static final double QUIET_N = 4;
    private static final long SHORT_NS = 40_000_000L;
    private static final double VERY_QUIET_N = 0.3; // A rise of 26 N/s over the stretch scatters as much.
    private static final double LEFT_N = 10;
    private static final double LEFT_NOISES = 10;

    private boolean started;
    private long startedNs;
    private long spanNs;
    private int count;
    private double meanN;
    private double squares;
    private long keptNs;
    private double keptMeanN;
    private double keptVariance;
    private double earlierMeanN;
    private double earlierVariance;

    void clear() {
        started = false;
    }

    /** Takes a smoothed sample; tells whether level and noise are learned. */
    boolean add(long nowNs, double sampleN) {
        if (!started) {
            started = true;
            startedNs = nowNs;
            startSpan(nowNs);
        }
        if (leftRest(sampleN)) {
            meanN = earlierMeanN;
            squares = 4 * earlierVariance * (count - 1);
            return true;
        }
        keepEarlier(nowNs);
        count++;
        double deviation = sampleN - meanN;
        meanN += deviation / count;
        squares += deviation * (sampleN - meanN);
        if (nowNs - spanNs < SPAN_NS || count < 4) {
            return false;
        }
        if (noiseN() <= QUIET_N || nowNs - startedNs >= PATIENCE_NS) {
            return true;
        }
        startSpan(nowNs);
        return false;
    }

    /** The rise itself is not part of the rest that it leaves: what was known 40 to 80 ms ago is asked. */
    private boolean leftRest(double sampleN) {
        double noise = Math.sqrt(earlierVariance);
        return noise <= VERY_QUIET_N && sampleN - earlierMeanN > Math.max(LEFT_N, LEFT_NOISES * noise);
    }

    private void keepEarlier(long nowNs) {
        if (nowNs - keptNs < SHORT_NS) {
            return;
        }
        keptNs = nowNs;
        earlierMeanN = keptMeanN;
        earlierVariance = keptVariance;
        keptMeanN = meanN;
        keptVariance = count < 4 ? Double.POSITIVE_INFINITY : squares / (count - 1);
    }

    double levelN() {
        return meanN;
    }

    double noiseN() {
        return Math.sqrt(squares / (count - 1));
    }

    private void startSpan(long nowNs) {
        spanNs = nowNs;
        keptNs = nowNs;
        keptVariance = Double.POSITIVE_INFINITY;
        earlierVariance = Double.POSITIVE_INFINITY;
        count = 0;
        meanN = 0;
        squares = 0;
    }
}
