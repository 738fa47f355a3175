package io.heldmark.pipeline;

import io.heldmark.align.ClockTie;
import io.heldmark.align.ImpulseMatch;
import io.heldmark.align.ImpulseTrack;
import io.heldmark.align.TapSeries;
import io.heldmark.link.Link;
import io.heldmark.metric.PairClocks;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.TapState;
import io.heldmark.model.TapState.State;
import java.util.List;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/**
 * Aligns the clocks of two cells by a knock that both see.
 *
 * <p><b>Course.</b> A request names two channels and begins a wait of at most {@value #LONGEST_S} s. Once one cell has seen a knock
 * and a second has passed on both, it is measured ({@link ImpulseMatch}) or refused with the reason ({@link TapRefusal}).
 * What is measured ties both clocks ({@link ClockTie}) from then on; further knocks are averaged.
 *
 * <p><b>Lost</b> where a link goes down or a clock begins anew: another connection may have another constant delay, and nothing in the
 * arrivals would show it. Lost too where both clocks are by now known better without. A link that is silent for a while keeps its
 * connection and the tie.
 *
 * <p><b>Threading.</b> The core's; driven by inputs alone, so that a replay comes to the same.
 */
final class TapDesk {
    static final double LONGEST_S = 20;

    private static final double SETTLED_NS = 10e9;
    private static final double JUDGED_AFTER_NS = 1e9;
    private static final double LEAST_CORRELATION = 0.9;
    private static final long SLEWED_NS = 1_000_000_000L;
    private static final double SLEW_SHARE = 0.1;

    private final StationListener out;
    private @Nullable Pair pair;
    private @Nullable ImpulseTrack left;
    private @Nullable ImpulseTrack right;
    private long untilNs;
    private @Nullable ClockTie tie;
    private long tiedSinceNs;

    /** One cell of a pair. */
    record Cell(ChannelPath channel, LinkPath link, SampleClock clock) {
        boolean radio() {
            return link.decoder().binding() == Link.Binding.GATT;
        }

        ChannelInfo info() {
            return channel.info();
        }
    }

    /** Both cells. */
    record Pair(Cell left, Cell right) {
        boolean sameClocks(Pair other) {
            return left.clock == other.left.clock && right.clock == other.right.clock;
        }
    }

    TapDesk(StationListener out) {
        this.out = out;
    }

    /** Begins to wait for a knock, in place of any wait before. */
    void listen(Pair wanted, long atNs) {
        stopListening();
        ClockTie held = tie;
        Pair before = pair;
        if (held != null && before != null && !before.sameClocks(wanted)) {
            untie();
        }
        pair = wanted;
        for (Cell cell : List.of(wanted.left, wanted.right)) {
            if (!cell.link.streaming() || cell.clock.aligner().spanNs() < SETTLED_NS) {
                refuse(TapRefusal.clockNotReady(cell.info().name()));
                return;
            }
        }
        untilNs = atNs + (long) (LONGEST_S * 1e9);
        left = begin(wanted.left);
        right = begin(wanted.right);
        tell(State.LISTENING, null);
    }

    private static ImpulseTrack begin(Cell cell) {
        ImpulseTrack track = new ImpulseTrack(cell.info().sampleRateHz(), LONGEST_S);
        cell.channel.listen(track);
        return track;
    }

    private void stopListening() {
        Pair now = pair;
        if (now != null) {
            now.left.channel.listen(null);
            now.right.channel.listen(null);
        }
        left = null;
        right = null;
    }

    /** Takes note that a request cannot be followed. */
    void refuse(String reason) {
        stopListening();
        tell(State.REFUSED, reason);
    }

    /** Forgets the knocks so far; each clock goes by itself again. */
    void forget() {
        stopListening();
        untie();
        pair = null;
        out.onTap(TapState.NONE);
    }

    /** Takes note that a link went down. */
    void onLinkDown(String link) {
        Pair now = pair;
        if (now != null
                && (now.left.info().link().equals(link)
                        || now.right.info().link().equals(link))) {
            if (left != null) {
                refuse(link + " was lost while a knock was waited for.");
            }
            lose(link + " was lost, and a new connection may delay its samples by another time.");
        }
    }

    /** Lets time pass. */
    void onClock(long nowNs) {
        ImpulseTrack one = left;
        ImpulseTrack other = right;
        Pair now = pair;
        if (now != null && one != null && other != null) {
            judge(now, one, other, nowNs);
        }
        ClockTie held = tie;
        if (now != null && held != null) {
            if (!now.left.clock.isTied(held) || !now.right.clock.isTied(held)) {
                lose("the clock of a cell began anew.");
            } else if (held.differenceUncertaintyNs() >= held.untiedUncertaintyNs()) {
                lose("by now both clocks are known better without it.");
            }
        }
    }

    private void judge(Pair now, ImpulseTrack one, ImpulseTrack other, long nowNs) {
        List<ImpulseTrack.Knock> ofOne = one.knocks();
        List<ImpulseTrack.Knock> ofOther = other.knocks();
        if (ofOne.isEmpty() && ofOther.isEmpty()) {
            if (nowNs > untilNs) {
                refuse(TapRefusal.noKnock(LONGEST_S));
            }
            return;
        }
        double firstNs = Math.min(firstNs(one, ofOne), firstNs(other, ofOther));
        double seenNs = Math.min(newestNs(one), newestNs(other));
        if (seenNs < firstNs + JUDGED_AFTER_NS && nowNs <= untilNs) {
            return;
        }
        String reason = TapRefusal.of(now, one, ofOne, other, ofOther);
        if (reason != null) {
            refuse(reason);
            return;
        }
        double resolutionNs = StrictMath.hypot(now.left.clock.tickNs(), now.right.clock.tickNs());
        ImpulseMatch match = ImpulseMatch.of(one, ofOne.get(0), other, ofOther.get(0), resolutionNs);
        if (match == null || match.correlation() < LEAST_CORRELATION) {
            refuse(TapRefusal.UNLIKE);
            return;
        }
        take(now, match, nowNs);
    }

    private static double firstNs(ImpulseTrack track, List<ImpulseTrack.Knock> knocks) {
        return knocks.isEmpty()
                ? Double.POSITIVE_INFINITY
                : track.timeNs(knocks.get(0).at());
    }

    private static double newestNs(ImpulseTrack track) {
        return track.count() == 0 ? Double.NEGATIVE_INFINITY : track.timeNs(track.count() - 1);
    }

    private void take(Pair now, ImpulseMatch match, long nowNs) {
        stopListening();
        ClockTie held = tie;
        ClockTie next = held != null ? held : tieOf(now);
        double before = next.taps().meanNs();
        next.add(match.offsetNs(), match.standardUncertaintyNs());
        if (next.differenceUncertaintyNs() >= next.untiedUncertaintyNs()) {
            untie();
            tell(
                    State.REFUSED,
                    String.format(
                            Locale.ROOT,
                            "both clocks are known better without it: to %.2g ms, with it to %.2g ms.",
                            1e-6 * next.untiedUncertaintyNs(),
                            1e-6 * next.differenceUncertaintyNs()));
            return;
        }
        tie = next;
        now.left.clock.setTie(next, 0);
        now.right.clock.setTie(next, 1);
        // The trace follows by a tenth of its length at most; what lies before is not yet tied.
        tiedSinceNs = nowNs + SLEWED_NS + (long) (Math.abs(next.taps().meanNs() - before) / SLEW_SHARE);
        tell(State.MEASURED, null);
    }

    private static ClockTie tieOf(Pair now) {
        return new ClockTie(now.left.clock.aligner(), now.left.radio(), now.right.clock.aligner(), now.right.radio());
    }

    private void lose(String reason) {
        if (tie != null) {
            untie();
            tell(State.LOST, reason);
            out.onNotice(
                    "warning", "The alignment by a knock no longer holds: " + reason + " Knock again.", tiedSinceNs);
        }
    }

    private void untie() {
        ClockTie held = tie;
        Pair now = pair;
        tie = null;
        if (held != null && now != null) {
            for (SampleClock clock : List.of(now.left.clock, now.right.clock)) {
                if (clock.isTied(held)) {
                    clock.setTie(null, 0);
                }
            }
        }
    }

    private void tell(State state, @Nullable String reason) {
        Pair now = pair;
        ClockTie held = tie;
        int leftChannel = now == null ? -1 : now.left.info().channel();
        int rightChannel = now == null ? -1 : now.right.info().channel();
        if (held == null) {
            double unknown = Double.NaN;
            out.onTap(new TapState(
                    state, leftChannel, rightChannel, reason, 0, unknown, unknown, unknown, unknown, unknown));
        } else {
            TapSeries taps = held.taps();
            out.onTap(new TapState(
                    state,
                    leftChannel,
                    rightChannel,
                    reason,
                    taps.count(),
                    taps.meanNs(),
                    taps.standardUncertaintyNs(),
                    taps.standardDeviationNs(),
                    held.differenceUncertaintyNs(),
                    held.untiedUncertaintyNs()));
        }
    }

    /** Returns what is known of both clocks now, for whoever asks at any later time. */
    PairClocks now() {
        ClockTie held = tie;
        Pair tied = pair;
        if (held == null || tied == null || !tied.left.clock.isTied(held) || !tied.right.clock.isTied(held)) {
            return PairClocks.UNKNOWN;
        }
        String left = tied.left.info().link();
        String right = tied.right.info().link();
        long sinceNs = tiedSinceNs;
        double differenceUncertaintyNs = held.differenceUncertaintyNs();
        return (leftLink, rightLink, fromNs) -> fromNs >= sinceNs && left.equals(leftLink) && right.equals(rightLink)
                ? differenceUncertaintyNs
                : Double.NaN;
    }
}
