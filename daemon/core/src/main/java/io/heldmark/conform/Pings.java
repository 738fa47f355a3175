package io.heldmark.conform;

import java.util.HashMap;
import java.util.Locale;
import java.util.Map;

/** Pings that were sent and the pongs to them. A pong says itself how long the device took, so the link's delay is no matter. */
final class Pings {
    private static final double LONGEST_S = 0.05;
    /** Share of pings that a link may lose, and one more. */
    private static final double LOST_SHARE = 0.01;

    private final Ledger ledger;
    private final Map<Integer, Boolean> answered = new HashMap<>();
    private int nextId = 0x0100;
    private double longestS;
    private boolean over;

    Pings(Ledger ledger) {
        this.ledger = ledger;
    }

    /** Returns the number of the next ping. */
    int next(long unusedNowNs) {
        int id = nextId;
        nextId = (nextId + 257) & 0xFFFF; // Both bytes change, so that one that is taken for the other shows.
        answered.put(id, false);
        return id;
    }

    /** Takes a pong. */
    void onPong(int id, double tookS, Evidence proof) {
        Boolean before = answered.get(id);
        if (before == null) {
            ledger.broken(Rule.PONG, "a pong with the number of no ping", proof);
            return;
        }
        if (before) {
            ledger.broken(Rule.PONG, "a second pong to one ping", proof);
            return;
        }
        answered.put(id, true);
        ledger.holds(Rule.PONG, proof);
        longestS = Math.max(longestS, tookS);
        String text = String.format(Locale.ROOT, "%.2f ms between its ticks", 1000 * tookS);
        if (tookS >= 0 && tookS <= LONGEST_S) {
            ledger.holds(Rule.PONG_TIME, proof);
            ledger.says(Rule.PONG_TIME, String.format(Locale.ROOT, "the longest took %.2f ms", 1000 * longestS));
        } else {
            ledger.broken(Rule.PONG_TIME, text, proof);
        }
    }

    /** Judges how many were answered. */
    void end() {
        if (over || answered.isEmpty()) {
            return;
        }
        over = true;
        long lost = answered.values().stream().filter(was -> !was).count();
        String text = lost + " of " + answered.size() + " pings were not answered";
        if (lost > 1 + LOST_SHARE * answered.size()) {
            ledger.broken(Rule.PONG, text);
        } else {
            ledger.says(Rule.PONG, text);
        }
    }
}
