package io.heldmark.metric;

import io.heldmark.model.ContractionFlag;
import io.heldmark.model.TestConditions;
import io.heldmark.model.TestConditions.Cue;
import io.heldmark.model.TestConditions.EffortType;
import io.heldmark.model.TestConditions.Fixation;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/**
 * Conditions under which a rate of force development may be stated.
 *
 * <p><b>What the plan must say.</b> Cue explosive; fixation rigid (never hand-held, a strap only once its stiffness was
 * checked and it is declared rigid); the person's own maximum, of which the peak must reach 80 %; and the bandwidth of the
 * converter must be known.
 *
 * <p><b>What the trace must show.</b> The 200 ms before the onset seen and steady, without tension or a dip; the onset known
 * well enough; a rise of at least 200 N/s over the first 100 ms, and no slow one; at least 1000 samples/s for spans up to
 * 100 ms and 500 beyond.
 *
 * <p><b>Without a plan</b> the cue is unknown. Then what nobody said is passed over, what was said still refuses, the trace
 * must qualify by itself, and the contraction carries {@code conditions-unknown}: see {@link #conditionsUnknown}. Who says
 * that the cue was explosive vouches for the test, so that nothing is passed over any more: one reason then names all that is
 * not said yet, and how to say it.
 *
 * <p><b>Source.</b> Maffiuletti et al. 2016, Eur J Appl Physiol 116:1091-1116 (rigid rig, 1 kHz, fast and hard, no tension or
 * dip before; in part from memory); 500 samples/s, 80 % and 200 N/s: common practice, no published source.
 */
final class RateGates {
    /** Slowest explosive rise over the first 100 ms. */
    static final double EXPLOSIVE_N_PER_S = 200;
    /** Time over which the rise is judged. */
    static final long RISE_NS = 100_000_000L;

    private static final long REST_NS = 200_000_000L;
    private static final long SHORT_NS = 100_000_000L;
    private static final double SHORT_RATE_HZ = 1000;
    private static final double LONG_RATE_HZ = 500;
    private static final double RATE_TOLERANCE =
            0.99; // A clock that runs slow by a part in a thousand is not another rate.
    private static final double MAXIMUM_SHARE = 0.8;
    private static final double STEADY_N = 1;

    private static final List<ContractionFlag> SPOILING = List.of(
            ContractionFlag.ONSET_NOT_SEEN,
            ContractionFlag.PRE_TENSION,
            ContractionFlag.COUNTERMOVEMENT,
            ContractionFlag.BASELINE_UNSTABLE,
            ContractionFlag.SLOW_RISE,
            ContractionFlag.ONSET_UNCERTAIN);

    private RateGates() {}

    /** Tells whether rates of force development stand without a plan's word: the contraction is then flagged. */
    static boolean conditionsUnknown(TestConditions c) {
        return c.cue() == Cue.UNKNOWN && c.effortType() != EffortType.ECCENTRIC;
    }

    /** Returns why a rate over a span must not be stated; nothing where it may. */
    static @Nullable String refused(Trace t, long spanNs) {
        String reason = said(t.conditions());
        if (reason == null && t.conditions().cue() == Cue.EXPLOSIVE) {
            reason = unsaid(t);
        }
        if (reason == null) {
            reason = rate(t, spanNs);
        }
        return reason == null ? t.rateRefusal() : reason;
    }

    /** Returns what in the trace refuses rates over any span; nothing where nothing does. */
    static @Nullable String shown(Trace t) {
        String reason = rest(t);
        if (reason == null) {
            reason = rise(t);
        }
        return reason == null ? strength(t) : reason;
    }

    /** Returns why the time of a rise means nothing: it was slow, or was meant to be. */
    static @Nullable String ramped(Trace t) {
        if (t.conditions().cue() == Cue.RAMPED) {
            return "the force was to be built up, not explosive";
        }
        double slope = t.riseNPerS(RISE_NS);
        if (slope >= EXPLOSIVE_N_PER_S) {
            return null;
        }
        return "ramped: " + Decimals.of(slope, 0) + " N/s over the first 100 ms, explosive is 200 N/s or more";
    }

    private static @Nullable String said(TestConditions c) {
        if (c.effortType() == EffortType.ECCENTRIC) {
            return "a lowering has no rate of force development";
        }
        if (c.cue() == Cue.RAMPED) {
            return "the force was to be built up, not explosive";
        }
        return switch (c.fixation()) {
            case HAND -> "hand-held: the hand gives way";
            case BELT -> "held by a belt whose stiffness was not checked";
            case RIGID, UNKNOWN -> null;
        };
    }

    private static @Nullable String unsaid(Trace t) {
        TestConditions c = t.conditions();
        List<String> missing = new ArrayList<>();
        if (c.fixation() == Fixation.UNKNOWN) {
            missing.add("that the fixation is rigid (fixation)");
        }
        if (!(t.channel().bandwidthHz() > 0)) {
            missing.add("the converter's bandwidth (bandwidth-hz; of a link: bandwidth in its address)");
        }
        if (!(c.ownMaximumN() > 0)) {
            missing.add("the person's own maximum (own-maximum-n)");
        }
        return missing.isEmpty() ? null : "the cue is explosive, but it is not said: " + String.join("; ", missing);
    }

    private static @Nullable String rate(Trace t, long spanNs) {
        double needed = spanNs <= SHORT_NS ? SHORT_RATE_HZ : LONG_RATE_HZ;
        if (t.sampleRateHz() >= RATE_TOLERANCE * needed) {
            return null;
        }
        return String.format(
                Locale.ROOT, "%.0f samples/s, over %s it takes %.0f", t.sampleRateHz(), Early.span(spanNs), needed);
    }

    private static @Nullable String rest(Trace t) {
        for (ContractionFlag flag : SPOILING) {
            if (t.flags().contains(flag)) {
                return because(flag);
            }
        }
        if (t.dipped()) {
            return because(ContractionFlag.COUNTERMOVEMENT);
        }
        int from = t.after(t.onsetNs() - REST_NS);
        int to = t.onsetIndex();
        if ((to - from) * t.periodNs() < 0.9 * REST_NS || t.missingBetween(from + 1, to)) {
            return "the 200 ms before the onset were not seen whole";
        }
        int middle = (from + to) / 2;
        double shift = Math.abs(mean(t, middle, to) - mean(t, from, middle));
        double explained =
                t.restingNoiseN() * Math.sqrt(2 * Math.max(1, t.restingCorrelationSamples()) / (middle - from));
        return shift > Math.max(STEADY_N, 4 * explained) ? because(ContractionFlag.BASELINE_UNSTABLE) : null;
    }

    private static @Nullable String rise(Trace t) {
        if (t.onsetNs() + RISE_NS > t.offsetNs()) {
            return "the contraction is shorter than 100 ms";
        }
        return t.ramped();
    }

    private static @Nullable String strength(Trace t) {
        double maximum = t.conditions().ownMaximumN();
        SlidingMean peak = t.peak();
        if (peak == null) {
            return "there is no peak force";
        }
        if (!(maximum > 0) || peak.meanN() >= MAXIMUM_SHARE * maximum) {
            return null;
        }
        return String.format(
                Locale.ROOT,
                "the peak is %.0f %% of the person's own maximum, under 80 %%",
                100 * peak.meanN() / maximum);
    }

    private static String because(ContractionFlag flag) {
        return switch (flag) {
            case ONSET_NOT_SEEN -> "the onset itself was not seen";
            case PRE_TENSION -> "there was already tension before the onset";
            case COUNTERMOVEMENT -> "the force dipped right before it rose";
            case BASELINE_UNSTABLE -> "the force was not steady in the 200 ms before the onset";
            case SLOW_RISE -> "ramped: the force never rose faster than 1.4 of its peak per second";
            case ONSET_UNCERTAIN -> "the onset is uncertain by more than 10 ms";
            default -> flag.text();
        };
    }

    private static double mean(Trace t, int from, int to) {
        double sum = 0;
        for (int i = from; i < to; i++) {
            sum += t.forceN(i);
        }
        return sum / (to - from);
    }
}
