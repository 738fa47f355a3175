package io.heldmark.detect;

/**
 * Learns level and noise of rest from the first quiet 0.3 s (noise as the scatter about the mean). A rise after at least
 * 50 ms of quiet ends it early, for a recording may begin a tenth of a second before the effort. A restless stretch is
 * dropped and the next one tried; after 3 s of restlessness the last stretch is taken all the same, for the level follows
 * later. Mean and variance by Welford (1962), Technometrics 4(3), 419-420, doi:10.1080/00401706.1962.10490022.
 */
final class Learning {
    private static final long SPAN_NS = 300_000_000L;
    private static final long PATIENCE_NS = 3_000_000_000L;
    private static final double QUIET_N = 4;
    private static final long SHORTEST_NS = 50_000_000L;
    private static final double EARLY_QUIET_N = 2;
    private static final double EARLY_RISE_N = 5;
    private static final double EARLY_RISE_SDS = 3;

    private boolean started;
    private long startedNs;
    private long spanNs;
    private int count;
    private double meanN;
    private double squares;

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
        if (risesEarly(nowNs, sampleN)) {
            return true;
        }
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

    private boolean risesEarly(long nowNs, double sampleN) {
        return nowNs - spanNs >= SHORTEST_NS
                && count >= 4
                && noiseN() <= EARLY_QUIET_N
                && sampleN - meanN > Math.max(EARLY_RISE_N, EARLY_RISE_SDS * noiseN());
    }

    double levelN() {
        return meanN;
    }

    double noiseN() {
        return Math.sqrt(squares / (count - 1));
    }

    private void startSpan(long nowNs) {
        spanNs = nowNs;
        count = 0;
        meanN = 0;
        squares = 0;
    }
}
