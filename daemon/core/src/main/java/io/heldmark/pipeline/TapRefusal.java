package io.heldmark.pipeline;

import io.heldmark.align.ImpulseTrack;
import io.heldmark.align.ImpulseTrack.Knock;
import java.util.List;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/** Why a knock cannot align two clocks, and what to do, in one sentence. The limits are the project's, no published source. */
final class TapRefusal {
    static final String UNLIKE = "The cells saw different things; strike the part that carries both, once and briefly.";

    private static final double LEAST_N = 10;
    private static final double LEAST_SDS = 20;
    private static final double APART_NS = 100e6;

    private TapRefusal() {}

    static String clockNotReady(String name) {
        return "The clock of " + name
                + " is not known well enough yet: it must have sent for ten seconds without a break.";
    }

    static String noKnock(double afterS) {
        return String.format(Locale.ROOT, "No knock within %.0f s.", afterS);
    }

    /** Returns the reason; absent where the knock can be used. */
    static @Nullable String of(
            TapDesk.Pair pair, ImpulseTrack left, List<Knock> ofLeft, ImpulseTrack right, List<Knock> ofRight) {
        String leftName = pair.left().info().name();
        String rightName = pair.right().info().name();
        if (ofLeft.isEmpty() || ofRight.isEmpty()) {
            return "Only " + (ofLeft.isEmpty() ? rightName : leftName)
                    + " saw it; strike the part that carries both cells.";
        }
        if (ofLeft.size() > 1 || ofRight.size() > 1) {
            return "More than one knock; strike once and leave it alone for a second.";
        }
        String fault = fault(leftName, left, ofLeft.get(0));
        if (fault == null) {
            fault = fault(rightName, right, ofRight.get(0));
        }
        if (fault == null
                && Math.abs(left.timeNs(ofLeft.get(0).at())
                                - right.timeNs(ofRight.get(0).at()))
                        > APART_NS) {
            fault = "The cells saw it more than a tenth of a second apart; that was not one knock.";
        }
        return fault;
    }

    private static @Nullable String fault(String name, ImpulseTrack track, Knock knock) {
        if (knock.clipped()) {
            return name + " reached the end of its range; strike more gently.";
        }
        if (knock.broken()) {
            return "Samples of " + name + " are missing just then; strike again.";
        }
        if (knock.held()) {
            return name + " was pushed; a knock is over at once.";
        }
        if (knock.peakN() < Math.max(LEAST_N, LEAST_SDS * track.noiseN())) {
            return String.format(
                    Locale.ROOT, "Too weak on %s: %.1f N; strike harder, or nearer to it.", name, knock.peakN());
        }
        return null;
    }
}
