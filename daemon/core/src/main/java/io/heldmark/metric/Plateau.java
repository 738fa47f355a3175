package io.heldmark.metric;

import org.jspecify.annotations.Nullable;

/**
 * The held part of a contraction.
 *
 * <p><b>Definition.</b> From 0.25 s after the force above the resting level first reached 90 % of what was to be held (the target
 * where there is one, else the peak force) to 0.25 s before the release began: at least 1 s, no sample missing.
 *
 * @param from index of its first sample.
 * @param to index after its last.
 * @param reason why there is none; the indices mean nothing then.
 */
record Plateau(int from, int to, @Nullable String reason) {
    private static final long MARGIN_NS = 250_000_000L;
    private static final long SHORTEST_NS = 1_000_000_000L;
    private static final double REACHED = 0.9;

    static Plateau of(Trace t) {
        SlidingMean peak = t.peak();
        if (peak == null) {
            return none("there is no peak force");
        }
        double target = t.conditions().targetForceN();
        double heldN = target > 0 ? target : peak.meanN();
        double levelN = t.restingLevelN() + REACHED * (heldN - t.restingLevelN());
        int reached = t.onsetIndex();
        while (reached <= t.offsetIndex() && t.forceN(reached) < levelN) {
            reached++;
        }
        if (reached > t.offsetIndex()) {
            return none("the force never reached 90 % of the target");
        }
        int from = t.after(t.timeNs(reached) + MARGIN_NS);
        int to = t.after(t.releaseStartNs() - MARGIN_NS + 1);
        double lengthNs = (to - from) * t.periodNs();
        if (lengthNs < SHORTEST_NS) {
            return none("the force was held for " + Decimals.of(Math.max(0, lengthNs * 1e-9), 2) + " s, it takes 1 s");
        }
        if (t.missingBetween(from + 1, to - 1)) {
            return none("samples are missing while the force was held");
        }
        return new Plateau(from, to, null);
    }

    /** Returns the number of samples. */
    int size() {
        return to - from;
    }

    private static Plateau none(String reason) {
        return new Plateau(0, 0, reason);
    }
}
