package io.heldmark.simulator.force;

import io.heldmark.simulator.math.SeededRandom;
import io.heldmark.simulator.math.Sinusoids;
import io.heldmark.simulator.scenario.EffortSpec;
import io.heldmark.simulator.scenario.LimbSpec;
import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * One effort of one limb, all numbers drawn: a known force at every time.
 *
 * <p><b>Formula.</b> With s the time since the onset and u the time since the start of the release,
 *
 * <pre>force(s) = (pre + (top - pre) rise(s)) fatigue(s) (1 + tremor(s) + fluctuation(s)) dip(s) left(u)</pre>
 *
 * and before the onset pre-tension and countermovement. Tremor and fluctuation go with the force, so that nothing leaves the
 * rest before the onset.
 *
 * <p><b>Sources.</b> Tremor of 8 to 12 Hz: physiological tremor, Elble &amp; Randall 1976, J Neurophysiol 39, 370-383 (from
 * memory). Fluctuation proportional to force, 1 to 5 %: Enoka et al. 2003, J Electromyogr Kinesiol 13, 1-12 (from memory).
 * The rest is common practice, no published source.
 */
final class Effort {
    private static final int TREMOR_TERMS = 5;
    private static final int FLUCTUATION_TERMS = 5;
    private static final double PRE_TENSION_RISE_S = 0.3;

    private final double onsetS;
    private final double topN;
    private final Rise rise;
    private final double fatiguePerS;
    private final Release release;
    private final double releaseStartS;
    private final double preTensionN;
    private final double preTensionS;
    private final double dipBeforeN;
    private final double dipBeforeS;
    private final double dipAfterS;
    private final double dipShare;
    private final double dipS;
    private final @Nullable CatchSpike catchSpike;
    private final Sinusoids tremor;
    private final Sinusoids fluctuation;
    private final EffortSpec spec;
    private final int number;
    private final boolean early;

    /** A jerk after the break; no part of the muscle's force. */
    record CatchSpike(double startS, double forceN, double durationS) {
        double forceN(double timeS) {
            return forceN * Curves.hump((timeS - startS) / durationS);
        }
    }

    /**
     * Draws an effort.
     *
     * @param spec ranges to draw from.
     * @param limb the limb.
     * @param number number of the effort in the plan, from 1; shared by the limbs that make it together.
     * @param onsetS onset of this limb, in seconds.
     * @param random stream of this effort and limb.
     */
    Effort(EffortSpec spec, LimbSpec limb, int number, double onsetS, SeededRandom random) {
        this.spec = spec;
        this.number = number;
        this.onsetS = onsetS;
        double variation = random.between(-spec.variationPercent(), spec.variationPercent()) / 100;
        topN = limb.maxForceN() * spec.percentOfMax().draw(random) / 100 * (1 + variation);
        rise = Rise.draw(spec.rise(), random.split("rise"));
        fatiguePerS = spec.fatiguePercentPerS().draw(random) / 100;
        release = new Release(spec.release().shape(), spec.release().durationS().draw(random));
        double holdS = spec.holdS().draw(random);
        double earlyS = spec.earlyReleaseS().draw(random);
        early = earlyS > 0;
        // However early the release, the effort has a top: half of the rise at least.
        releaseStartS = onsetS + Math.max(rise.riseS() + holdS - earlyS, 0.5 * rise.riseS());
        SeededRandom extras = random.split("extras");
        EffortSpec.PreTension pre = spec.preTension();
        preTensionN = pre == null ? 0 : pre.forceN().draw(extras);
        preTensionS = pre == null ? 0 : pre.durationS().draw(extras);
        EffortSpec.Countermovement before = spec.countermovement();
        dipBeforeN = before == null ? 0 : before.forceN().draw(extras);
        dipBeforeS = before == null ? 0 : before.durationS().draw(extras);
        EffortSpec.DoubleEffort twice = spec.doubleEffort();
        dipAfterS = twice == null ? 0 : twice.afterS().draw(extras);
        dipShare = twice == null ? 0 : twice.dipPercent().draw(extras) / 100;
        dipS = twice == null ? 1 : twice.durationS().draw(extras);
        catchSpike = drawCatch(spec.catchSpike(), extras);
        tremor = Sinusoids.band(
                random.split("tremor"),
                TREMOR_TERMS,
                limb.tremorHz().get(0),
                limb.tremorHz().get(1),
                limb.tremorPercent() / 100,
                0);
        fluctuation = Sinusoids.band(
                random.split("fluctuation"), FLUCTUATION_TERMS, 0.3, 3, limb.fluctuationPercent() / 100, 0.5);
    }

    private @Nullable CatchSpike drawCatch(EffortSpec.@Nullable CatchSpike spike, SeededRandom random) {
        if (spike == null) {
            return null;
        }
        double forceN = spike.forceN().draw(random);
        double startS = releaseStartS + spike.afterS().draw(random);
        return new CatchSpike(startS, forceN, spike.durationS().draw(random));
    }

    /** Returns the muscle's force above the resting level at a time, in newtons; no spike of a catch in it. */
    double muscleN(double timeS) {
        double s = timeS - onsetS;
        if (s <= 0) {
            return beforeOnsetN(s);
        }
        double left = release.left(timeS - releaseStartS);
        if (left == 0) {
            return 0;
        }
        double force = preTensionN + (topN - preTensionN) * rise.value(s);
        double fatigue = fatiguePerS == 0 ? 1 : StrictMath.exp(-fatiguePerS * s);
        double dip = dipShare == 0 ? 1 : 1 - dipShare * Curves.hump((s - dipAfterS) / dipS);
        return force * fatigue * (1 + tremor.value(timeS) + fluctuation.value(timeS)) * dip * left;
    }

    private double beforeOnsetN(double s) {
        double force = 0;
        if (preTensionN != 0 && s > -preTensionS) {
            force = preTensionN
                    * Curves.step((s + preTensionS) / Math.min(PRE_TENSION_RISE_S, preTensionS))
                    * (1 + tremor.value(onsetS + s) + fluctuation.value(onsetS + s));
        }
        return dipBeforeN == 0 ? force : force - dipBeforeN * Curves.hump(1 + s / dipBeforeS);
    }

    /** Returns all that this effort adds to the cell's force at a time, in newtons. */
    double forceN(double timeS) {
        return catchSpike == null ? muscleN(timeS) : muscleN(timeS) + catchSpike.forceN(timeS);
    }

    int number() {
        return number;
    }

    double onsetS() {
        return onsetS;
    }

    /** Returns when anything of it begins: pre-tension, countermovement or onset. */
    double startS() {
        return onsetS - Math.max(preTensionS, dipBeforeS);
    }

    double releaseStartS() {
        return releaseStartS;
    }

    /** Returns when nothing is left of it. */
    double endS() {
        double endS = releaseStartS + release.endS();
        return catchSpike == null ? endS : Math.max(endS, catchSpike.startS() + catchSpike.durationS());
    }

    /** Returns the time at which the force above the level at the onset is back at 5 % of what it was when the release began. */
    double offsetS() {
        double levelN = muscleN(onsetS);
        double targetN = levelN + 0.05 * (muscleN(releaseStartS) - levelN);
        double low = releaseStartS;
        double high = releaseStartS + release.endS();
        for (int i = 0; i < 60; i++) {
            double middle = (low + high) / 2;
            if (muscleN(middle) > targetN) {
                low = middle;
            } else {
                high = middle;
            }
        }
        return high;
    }

    /** Returns the greatest slope of the bare rise (no tremor, fatigue or release), in newtons per second. */
    double riseSlopeNPerS() {
        return (topN - preTensionN) * rise.peakSlopePerS();
    }

    double topN() {
        return topN;
    }

    Rise rise() {
        return rise;
    }

    EffortSpec.RiseShape shape() {
        return spec.rise().shape();
    }

    @Nullable CatchSpike catchSpike() {
        return catchSpike;
    }

    /** Returns when the dip before the onset begins; NaN without one. */
    double countermovementStartS() {
        return dipBeforeN == 0 ? Double.NaN : onsetS - dipBeforeS;
    }

    /** Returns when the pre-tension begins; NaN without one. */
    double preTensionStartS() {
        return preTensionN == 0 ? Double.NaN : onsetS - preTensionS;
    }

    /** Returns what is special about it, in a fixed order. */
    List<String> flags() {
        List<String> flags = new ArrayList<>();
        add(flags, preTensionN != 0, "pre-tension");
        add(flags, dipBeforeN != 0, "countermovement");
        add(flags, dipShare != 0, "double-effort");
        add(flags, early, "early-release");
        add(flags, catchSpike != null, "catch-spike");
        add(flags, shape() == EffortSpec.RiseShape.LEAN, "break-point");
        return flags;
    }

    private static void add(List<String> flags, boolean present, String flag) {
        if (present) {
            flags.add(flag);
        }
    }
}
