package io.heldmark.metric;

import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Contraction;
import io.heldmark.model.Effort;
import io.heldmark.model.EffortFlag;
import io.heldmark.model.Limb;
import io.heldmark.model.MetricValue;
import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Finds contractions of both limbs that belong together.
 *
 * <p><b>Rule.</b> A final contraction of one limb and one of the other belong together if they overlap by at least half
 * of the shorter one: a limb that lets go early still belongs to the effort, one that is tested after the other does
 * not. Each belongs to one effort at most; among several partners the longest overlap wins, the earlier
 * of equals. Decided when the later of the two becomes final.
 *
 * <p><b>Onset lag.</b> Left onset minus right onset. Its standard uncertainty adds both onsets' in squares; where both
 * channels belong to one device their alignment is one and the same and cancels; where both clocks were aligned to each
 * other ({@link PairClocks}) that stands in place of the alignment of each.
 *
 * <p><b>Flags.</b> A limb let go early whose release began before the other's by more than 0.5 s and a quarter of the shorter
 * hold. The alignment is uncertain above 10 ms, both devices together. Without a comparison the cells' own mismatch is in
 * the asymmetry.
 *
 * <p><b>Bounds.</b> The newest 16 unpaired contractions of each limb are kept.
 */
public final class EffortPairing {
    private static final int KEPT = 16;
    private static final double EARLY_NS = 0.5e9;
    private static final double EARLY_SHARE = 0.25;
    private static final double ALIGNMENT_NS = 10e6;

    /**
     * One limb of an effort.
     *
     * @param contraction its contraction.
     * @param channel its channel.
     * @param timeU alignment of the channel's time, in nanoseconds, which the onset's uncertainty includes.
     */
    public record Side(Contraction contraction, ChannelInfo channel, double timeU) {}

    private final PairMetric asymmetry;
    private final double mismatchRelativeU;
    private final List<Side> left = new ArrayList<>();
    private final List<Side> right = new ArrayList<>();
    private long nextId = 1;

    /** Makes a pairing with the standard asymmetry. */
    public static EffortPairing standard() {
        return new EffortPairing(new LogAsymmetry(), Double.NaN);
    }

    /**
     * Makes a pairing.
     *
     * @param asymmetry asymmetry of the peak forces.
     * @param mismatchRelativeU of the cells, as found by comparing them; NaN where they were not compared.
     */
    public EffortPairing(PairMetric asymmetry, double mismatchRelativeU) {
        this.asymmetry = asymmetry;
        this.mismatchRelativeU = mismatchRelativeU;
    }

    /** Returns the formula of the asymmetry, in words. */
    public String formula() {
        return asymmetry.formula();
    }

    /** Takes a final contraction where nothing is known of the clocks but each by itself. */
    public @Nullable Effort onFinal(Contraction contraction, ChannelInfo channel, double timeStandardUncertaintyNs) {
        return onFinal(contraction, channel, timeStandardUncertaintyNs, PairClocks.UNKNOWN);
    }

    /**
     * Takes a final contraction with its metrics.
     *
     * @param contraction the contraction.
     * @param channel its channel.
     * @param timeStandardUncertaintyNs alignment of the channel's time, which its onset's uncertainty includes.
     * @param clocks what is known of both limbs' clocks against each other.
     * @return the effort that it completes; absent otherwise.
     */
    public @Nullable Effort onFinal(
            Contraction contraction, ChannelInfo channel, double timeStandardUncertaintyNs, PairClocks clocks) {
        if (contraction.limb() == Limb.NONE || contraction.revision() == Contraction.Revision.WITHDRAWN) {
            return null;
        }
        boolean isLeft = contraction.limb() == Limb.LEFT;
        Side here = new Side(contraction, channel, timeStandardUncertaintyNs);
        List<Side> others = isLeft ? right : left;
        Side partner = partner(contraction, others);
        if (partner == null) {
            keep(here, isLeft ? left : right);
            return null;
        }
        others.remove(partner);
        Side l = isLeft ? here : partner;
        Side r = isLeft ? partner : here;
        return effort(nextId++, l, r, clocksNs(l, r, clocks));
    }

    /** Takes a contraction whose boundaries were moved before its partner was there. */
    public void onRevised(Contraction revised) {
        replace(left, revised);
        replace(right, revised);
    }

    /**
     * Computes an effort again after the boundaries of a contraction were moved; which contractions belong together stays.
     *
     * @param before the effort.
     * @param leftSide left limb's contraction in force, with its metrics.
     * @param rightSide right limb's contraction in force, with its metrics.
     */
    public Effort again(Effort before, Side leftSide, Side rightSide) {
        return effort(before.id(), leftSide, rightSide, before.clocksStandardUncertaintyNs());
    }

    private static void replace(List<Side> list, Contraction revised) {
        list.replaceAll(s -> s.contraction().id() == revised.id() ? new Side(revised, s.channel(), s.timeU()) : s);
    }

    private static void keep(Side waiting, List<Side> list) {
        list.add(waiting);
        if (list.size() > KEPT) {
            list.remove(0);
        }
    }

    private static @Nullable Side partner(Contraction c, List<Side> others) {
        Side best = null;
        long bestOverlapNs = 0;
        for (Side other : others) {
            Contraction o = other.contraction();
            long overlapNs = Math.min(c.offsetNs(), o.offsetNs()) - Math.max(c.onsetNs(), o.onsetNs());
            long shorterNs = Math.min(c.offsetNs() - c.onsetNs(), o.offsetNs() - o.onsetNs());
            if (overlapNs > bestOverlapNs && 2 * overlapNs >= shorterNs) {
                best = other;
                bestOverlapNs = overlapNs;
            }
        }
        return best;
    }

    /** Uncertainty of both clocks against each other: 0 on one device, NaN where no better known than each by itself. */
    private static double clocksNs(Side l, Side r, PairClocks clocks) {
        String leftLink = l.channel().link();
        String rightLink = r.channel().link();
        long fromNs = Math.min(l.contraction().onsetNs(), r.contraction().onsetNs());
        return leftLink.equals(rightLink) ? 0 : clocks.standardUncertaintyNs(leftLink, rightLink, fromNs);
    }

    private Effort effort(long id, Side l, Side r, double clocksNs) {
        boolean together = !Double.isNaN(clocksNs);
        double ul = l.contraction().onsetStandardUncertaintyNs();
        double ur = r.contraction().onsetStandardUncertaintyNs();
        double alignment = l.timeU() * l.timeU() + r.timeU() * r.timeU();
        double variance = ul * ul + ur * ur - (together ? alignment - clocksNs * clocksNs : 0);
        CellPair cells = CellPair.of(l.channel(), r.channel(), mismatchRelativeU);
        return new Effort(
                id,
                l.contraction().id(),
                r.contraction().id(),
                l.contraction().onsetNs() - r.contraction().onsetNs(),
                Math.sqrt(Math.max(0, variance)),
                asymmetry.compute(peak(l.contraction()), peak(r.contraction()), cells),
                flags(l.contraction(), r.contraction(), together ? clocksNs : Math.sqrt(alignment), cells),
                clocksNs,
                null);
    }

    private static List<String> flags(Contraction l, Contraction r, double alignmentNs, CellPair cells) {
        List<String> flags = new ArrayList<>();
        long shorterNs = Math.min(l.releaseStartNs() - l.onsetNs(), r.releaseStartNs() - r.onsetNs());
        double early = Math.max(EARLY_NS, EARLY_SHARE * shorterNs);
        if (l.releaseStartNs() < r.releaseStartNs() - early) {
            flags.add(EffortFlag.EARLY_RELEASE_LEFT.id());
        } else if (r.releaseStartNs() < l.releaseStartNs() - early) {
            flags.add(EffortFlag.EARLY_RELEASE_RIGHT.id());
        }
        if (alignmentNs > ALIGNMENT_NS) {
            flags.add(EffortFlag.ALIGNMENT_UNCERTAIN.id());
        }
        if (!cells.compared()) {
            flags.add(EffortFlag.CELLS_NOT_COMPARED.id());
        }
        return flags;
    }

    private static MetricValue peak(Contraction c) {
        for (MetricValue value : c.metrics()) {
            if (value.id().equals(PeakForce.ID)) {
                return value;
            }
        }
        return MetricValue.notComputed(PeakForce.ID, "was not asked for");
    }
}
