package io.heldmark.pipeline;

import org.jspecify.annotations.Nullable;

/**
 * Says of one link what is about to hurt: a charge that runs low, a radio link that falters.
 *
 * <p><b>Charge.</b> Told once at 20, 10 and 5 %, and again after it has been above 25 %.
 *
 * <p><b>Radio.</b> The stack does not tell the signal strength of a connected cell. What a weak signal does is seen
 * instead: samples that wait, or are lost. A second is bad if none came for {@link #WAIT_NS} within it or if samples were
 * lost; {@value #BAD_SECONDS} bad ones of ten are told, at most once a minute.
 *
 * <p>The limits are common practice, no published source. Driven by inputs alone; nothing is allocated per sample.
 */
final class LinkWarnings {
    static final long WAIT_NS = 250_000_000L;
    static final int BAD_SECONDS = 2;

    private static final int[] CHARGE_PERCENT = {20, 10, 5};
    private static final int CHARGED_PERCENT = 25;
    private static final int SECONDS = 10;
    private static final long QUIET_NS = 60_000_000_000L;

    private final boolean radio;
    private final boolean[] bad = new boolean[SECONDS];
    private int second;
    private int chargesTold;
    private long newestNs = Long.MIN_VALUE;
    private long longestWaitNs;
    private long lostBefore;
    private long quietUntilNs = Long.MIN_VALUE;

    /** Makes the warnings of one link; those of the radio only where it is one. */
    LinkWarnings(boolean radio) {
        this.radio = radio;
    }

    /** Takes a reported charge; returns what to tell, if anything. */
    @Nullable String onCharge(int percent) {
        if (percent > CHARGED_PERCENT) {
            chargesTold = 0;
        }
        boolean lower = false;
        while (percent >= 0 && chargesTold < CHARGE_PERCENT.length && percent <= CHARGE_PERCENT[chargesTold]) {
            chargesTold++;
            lower = true;
        }
        return lower ? "the cell's charge is down to " + percent + " %: charge it before the next test" : null;
    }

    /** Forgets the arrivals: the connection is a new one. */
    void onUp() {
        newestNs = Long.MIN_VALUE;
        longestWaitNs = 0;
    }

    /** Takes an arrival of samples. */
    void onSamples(long arrivalNs) {
        if (newestNs != Long.MIN_VALUE) {
            longestWaitNs = Math.max(longestWaitNs, arrivalNs - newestNs);
        }
        newestNs = arrivalNs;
    }

    /**
     * Ends a second; returns what to tell, if anything.
     *
     * @param nowNs station time.
     * @param lostSamples samples lost until now.
     */
    @Nullable String endSecond(long nowNs, long lostSamples) {
        long lost = lostSamples - lostBefore;
        lostBefore = lostSamples;
        boolean waited = longestWaitNs >= WAIT_NS;
        bad[second] = waited || lost > 0;
        second = (second + 1) % SECONDS;
        long waitedNs = longestWaitNs;
        longestWaitNs = 0;
        if (!radio || nowNs < quietUntilNs || badSeconds() < BAD_SECONDS || !(waited || lost > 0)) {
            return null;
        }
        quietUntilNs = nowNs + QUIET_NS;
        String seen = lost > 0 ? lost + " samples were lost" : "samples came " + waitedNs / 1_000_000 + " ms late";
        return "the radio link is weak (" + seen + "): bring the cell nearer, out of the shadow of the body";
    }

    private int badSeconds() {
        int n = 0;
        for (boolean one : bad) {
            n += one ? 1 : 0;
        }
        return n;
    }
}
