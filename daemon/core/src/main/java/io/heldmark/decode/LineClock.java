package io.heldmark.decode;

/**
 * Times of lines that carry none: a clock that runs at the rate of the lines and follows their arrivals.
 *
 * <p><b>Method.</b> Each line is due one period after the one before. When the last line of a read has come, the distance of the
 * arrival from what was due corrects the phase by a tenth a line, at most by half, and the period by a four-hundredth (a
 * second-order loop, critically damped for one line a read); a line is never moved by more than a tenth of a period, so that what the loop does cannot look like
 * lost samples. Where nothing came for {@value #GAP_S} s and three periods more than was due, the clock begins anew at the
 * arrival: samples are missing there, or the board was silent. The period stays within half and twice the declared one.
 *
 * <p><b>What it cannot know.</b> A line that was lost alone, and a constant delay. Lines held back by an adapter for some
 * milliseconds jitter by a few tenths of that. The gains are common practice, no published source.
 *
 * <p><b>Units.</b> Nanoseconds of station time. Single writer, nothing is allocated.
 */
final class LineClock {
    static final double GAP_S = 0.5;

    private static final double PHASE_GAIN = 0.1;
    private static final double PERIOD_GAIN = PHASE_GAIN * PHASE_GAIN / 4;
    private static final double MOST_GAIN = 0.5;
    private static final double MOST_SHARE = 0.1;
    private static final double PERIODS_OF_GAP = 3;

    private final double declaredNs;
    private double periodNs;
    private double newestNs;
    private double owedNs;
    private boolean started;

    /** Makes a clock for a declared rate of lines, in hertz. */
    LineClock(double rateHz) {
        declaredNs = 1e9 / rateHz;
        periodNs = declaredNs;
    }

    /** Takes note that the connection is a new one: the next line begins anew. */
    void restart() {
        started = false;
    }

    /** Takes note that a read with so many lines came, before their times are asked for. */
    void onRead(int lines, long arrivalNs) {
        double firstNs = arrivalNs - (lines - 1) * periodNs;
        double gapNs = firstNs - (newestNs + periodNs);
        if (!started || gapNs > GAP_S * 1e9 + PERIODS_OF_GAP * periodNs) {
            // Times never go back, whatever a new connection brings at once.
            newestNs = Math.max(firstNs - periodNs, newestNs);
            owedNs = 0;
            started = true;
            return;
        }
        double offNs = arrivalNs - (newestNs + lines * periodNs);
        owedNs = Math.min(MOST_GAIN, PHASE_GAIN * lines) * offNs;
        periodNs += PERIOD_GAIN * offNs;
        periodNs = Math.min(2 * declaredNs, Math.max(declaredNs / 2, periodNs));
    }

    /** Returns the time of the next line of the read. */
    double next() {
        double most = MOST_SHARE * periodNs;
        double movedNs = Math.min(most, Math.max(-most, owedNs));
        owedNs -= movedNs;
        newestNs += periodNs + movedNs;
        return newestNs;
    }
}
