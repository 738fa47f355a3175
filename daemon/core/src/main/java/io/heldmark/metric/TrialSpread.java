package io.heldmark.metric;

import java.util.Iterator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * Whether the best two trials of one limb lie so far apart that another one is worth while.
 *
 * <p><b>Rule.</b> 100 (best - second) / best over 10 %. At a trial-to-trial SD of 5 % a limit of 5 % would warn of a third of good
 * sets of three.
 *
 * <p>Without a plan there is no set: of a session's contractions those count that reach 80 % of the best, and from three of
 * them on the best two are compared, so that warming up does not warn.
 *
 * <p><b>Source.</b> Common practice, no published source; the 5 %: computed, see {@code QualityChecksTest}.
 */
public final class TrialSpread {
    static final String RULE =
            "Of a limb's contractions that reach 80 % of its best, at least three, the best two differ by more than 10 %; judged again for a"
                    + " contraction whose boundaries are moved.";

    private static final double LIMIT_PERCENT = 10;
    private static final double MAXIMAL_SHARE = 0.8;

    private static final int KEPT = 1000;

    private final Map<Long, Double> peaksN = new LinkedHashMap<>(); // In the order in which they were finished.
    private final Best dropped = new Best(); // Of those that are no longer kept.
    private final Best all = new Best();

    /** Returns how far the best two lie apart, in per cent of the best; NaN for fewer than two or a best not above 0. */
    public static double percent(List<Double> peaksN) {
        double best = Double.NEGATIVE_INFINITY;
        double second = Double.NEGATIVE_INFINITY;
        for (double peak : peaksN) {
            if (peak > best) {
                second = best;
                best = peak;
            } else if (peak > second) {
                second = peak;
            }
        }
        return peaksN.size() >= 2 && best > 0 ? 100 * (best - second) / best : Double.NaN;
    }

    /** Tells whether a set's spread is worth a warning. */
    public static boolean wide(List<Double> peaksN) {
        return percent(peaksN) > LIMIT_PERCENT;
    }

    /**
     * Takes the peak of a session's next contraction of the limb; tells whether the best two now lie too far apart.
     *
     * @param id the contraction's.
     * @param peakN its peak; NaN where it has none.
     */
    public boolean next(long id, double peakN) {
        peaksN.put(id, peakN);
        if (peaksN.size() > KEPT) {
            Iterator<Double> eldest = peaksN.values().iterator();
            dropped.take(eldest.next());
            eldest.remove();
        }
        return all.take(peakN);
    }

    /**
     * Takes another peak of a contraction whose boundaries were moved; tells whether the best two lay too far apart when that
     * contraction was finished, by the peaks that are in force now. What was told of later ones stays, what comes is judged
     * by the new peak.
     *
     * @param id the contraction's; one of the newest {@value #KEPT} of the limb, else nothing changes.
     * @param peakN its peak; NaN where it has none.
     */
    public boolean again(long id, double peakN) {
        if (peaksN.replace(id, peakN) == null) {
            return false;
        }
        all.set(dropped);
        boolean wide = false;
        for (Map.Entry<Long, Double> one : peaksN.entrySet()) {
            boolean now = all.take(one.getValue());
            wide = one.getKey() == id ? now : wide;
        }
        return wide;
    }

    /** The best three peaks: however long the session, they decide. */
    private static final class Best {
        private double bestN = Double.NEGATIVE_INFINITY;
        private double secondN = Double.NEGATIVE_INFINITY;
        private double thirdN = Double.NEGATIVE_INFINITY;

        void set(Best other) {
            bestN = other.bestN;
            secondN = other.secondN;
            thirdN = other.thirdN;
        }

        boolean take(double peakN) {
            if (Double.isNaN(peakN)) {
                return false;
            }
            if (peakN > bestN) {
                thirdN = secondN;
                secondN = bestN;
                bestN = peakN;
            } else if (peakN > secondN) {
                thirdN = secondN;
                secondN = peakN;
            } else {
                thirdN = Math.max(thirdN, peakN);
            }
            double leastN = MAXIMAL_SHARE * bestN;
            return peakN >= leastN && thirdN >= leastN && wide(List.of(bestN, secondN));
        }
    }
}
