package io.heldmark.align;

/**
 * The skew of the device's clock, from the envelopes of both directions and from what crystals can do.
 *
 * <p><b>Method.</b> Each envelope's hull gives a skew. Its standard uncertainty is taken as {@value #LOOSE_SHARE} of what
 * lies open (looseness of the bins, waits seen but not yet swept) over the time it spans, a figure that was measured on
 * synthetic arrivals (docs/alignment.md). A way up that is locked to the link's rhythm follows the link's clock rather than
 * the device's; it carries {@value #RHYTHM_SKEW} more, which matters only where pings know better. Crystals are within
 * {@value #CRYSTAL_SKEW} (standard): that steadies the first seconds, and is dropped where the data contradict it
 * (ceramic resonators, RC oscillators). The parts are weighted by their inverse variances. Where pings and frames cross at the
 * same events of the link ({@link EventMatch}), their line alone stands in for the hulls: it follows the device's clock,
 * whatever the rhythm, and is far tighter.
 *
 * <p>Skew is the slope of (station time minus device time) over device time, without unit; a fast device is negative.
 */
final class SkewChoice {
    static final double LOOSE_SHARE = 0.25;
    static final double CRYSTAL_SKEW = 60e-6;
    static final double RHYTHM_SKEW = 200e-6;

    /** No oscillator is further off, RC oscillators not either (from memory): a steeper line is a backlog being emptied. */
    static final double STEEPEST = 0.02;

    private static final double SWEPT = 0.1;
    private static final double FINEST = 0.5e-6;
    private static final double CONTRADICTION = 5;
    private static final double CONTRADICTION_SPAN_NS = 10e9;
    private static final double CRYSTAL_LIMIT = 100e-6;

    private double skew;
    private double uncertainty = CRYSTAL_SKEW;
    private double sumOfWeights;
    private double weighted;

    /** Forgets everything. */
    void clear() {
        skew = 0;
        uncertainty = CRYSTAL_SKEW;
    }

    /** Chooses anew from fitted windows. */
    void choose(EnvelopeWindow up, ArrivalPhase phase, TwoWayBound twoWay, EventMatch match) {
        sumOfWeights = 0;
        weighted = 0;
        if (match.ready()) {
            double u = match.skewUncertainty();
            add(match.skew(), u * u + FINEST * FINEST);
        } else {
            addHulls(up, phase, twoWay);
        }
        weigh(up.spanNs());
    }

    private void addHulls(EnvelopeWindow up, ArrivalPhase phase, TwoWayBound twoWay) {
        double unsweptNs = Math.min(phase.hiddenNs(), phase.rangeNs() - phase.hiddenNs());
        add(up, up.skew(), unsweptNs, twoWay.ready() ? RHYTHM_SKEW * rhythmShare(up, phase, twoWay.window()) : 0);
        if (twoWay.ready()) {
            add(twoWay.window(), twoWay.skew(), 0, 0);
        }
    }

    private void weigh(double spanNs) {
        double seen = sumOfWeights == 0 ? 0 : weighted / sumOfWeights;
        double seenVariance = sumOfWeights == 0 ? Double.POSITIVE_INFINITY : 1 / sumOfWeights;
        double spread = Math.sqrt(seenVariance + CRYSTAL_SKEW * CRYSTAL_SKEW);
        boolean contradicted =
                spanNs > CONTRADICTION_SPAN_NS && Math.abs(seen) > CRYSTAL_LIMIT + CONTRADICTION * spread;
        if (!contradicted) {
            double crystalWeight = 1 / (CRYSTAL_SKEW * CRYSTAL_SKEW);
            skew = weighted / (sumOfWeights + crystalWeight);
            uncertainty = 1 / Math.sqrt(sumOfWeights + crystalWeight);
        } else {
            skew = seen;
            uncertainty = Math.sqrt(seenVariance);
        }
    }

    /** Returns the chosen skew. */
    double skew() {
        return skew;
    }

    /** Returns its standard uncertainty. */
    double uncertainty() {
        return uncertainty;
    }

    /** How far the way up is to be mistrusted where pings know better: 1 while they last or where it is locked. */
    private static double rhythmShare(EnvelopeWindow up, ArrivalPhase phase, EnvelopeWindow down) {
        double covered = Math.min(1, down.spanNs() / Math.max(1, up.spanNs()));
        double locked = Math.min(1, (phase.hiddenNs() / phase.rangeNs() - SWEPT) / SWEPT);
        return Math.max(covered * covered, locked);
    }

    private void add(EnvelopeWindow window, double windowSkew, double unsweptNs, double extra) {
        if (window.bins() < 3 || Math.abs(windowSkew) > STEEPEST) {
            return;
        }
        double open = LOOSE_SHARE * (window.looseNs() + unsweptNs) / window.spanNs();
        add(windowSkew, open * open + FINEST * FINEST + extra * extra);
    }

    private void add(double partSkew, double variance) {
        sumOfWeights += 1 / variance;
        weighted += partSkew / variance;
    }
}
