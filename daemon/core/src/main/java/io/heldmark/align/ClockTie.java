package io.heldmark.align;

/**
 * Two devices' clocks tied by an event that both saw.
 *
 * <p><b>What it knows.</b> The difference between the times at which both mappings put the same instant, taken while each was as
 * {@link ClockAligner} had it. Delays are never negative, so the mapping that puts the event later is moved back by the
 * difference, and no sample gets a time after its arrival. Which of both is nearer to the truth remains open.
 *
 * <p><b>What moves afterwards.</b> The constant difference of the delays stays while both links do; {@link EstimateMoves} says what
 * does not. Where a mapping changes its method it makes another guess at that constant; the tie takes that step back.
 *
 * <p><b>Uncertainty of the difference</b> (GUM 5.1.2): {@code u^2 = uTap^2 + sum over both of (m0^2 + v)}, m0 the moving part of the
 * mapping's uncertainty at the event, v the variance of all that may have moved it since. Both have much in common soon
 * after the event; that is not used, so the figure is rather too large.
 *
 * <p><b>Threading.</b> That of both aligners.
 */
public final class ClockTie {
    private final Side[] sides;
    private TapSeries taps = TapSeries.NONE;

    /** One mapping, and whether its link is a radio. */
    private record Side(ClockAligner aligner, boolean radio) {}

    /**
     * Begins a tie that knows no event yet.
     *
     * @param left mapping of the left device.
     * @param leftRadio whether its link has a rhythm of its own.
     * @param right mapping of the right device.
     * @param rightRadio whether its link has a rhythm of its own.
     */
    public ClockTie(ClockAligner left, boolean leftRadio, ClockAligner right, boolean rightRadio) {
        sides = new Side[] {new Side(left, leftRadio), new Side(right, rightRadio)};
        left.beginMoves();
        right.beginMoves();
    }

    /**
     * Takes an event.
     *
     * @param offsetNs left minus right time of it, as both mappings have it now, without this tie.
     * @param standardUncertaintyNs of that, from noise and sampling.
     */
    public void add(double offsetNs, double standardUncertaintyNs) {
        EstimateMoves left = sides[0].aligner.moves();
        EstimateMoves right = sides[1].aligner.moves();
        taps = taps.with(
                offsetNs - left.methodNs() + right.methodNs(),
                standardUncertaintyNs,
                sides[0].aligner.movingNs2() + sides[1].aligner.movingNs2());
    }

    /** Returns what the events gave so far. */
    public TapSeries taps() {
        return taps;
    }

    /** Returns what is to be added to a mapping's times, in nanoseconds; side 0 is left, 1 right. */
    public double shiftNs(int side) {
        double offsetNs = side == 0 ? taps.meanNs() : -taps.meanNs();
        return Math.min(0, -offsetNs) - sides[side].aligner.moves().methodNs();
    }

    /** Returns the standard uncertainty of the difference between both clocks, in nanoseconds. */
    public double differenceUncertaintyNs() {
        double variance = taps.standardUncertaintyNs() * taps.standardUncertaintyNs() + taps.movingNs2();
        for (Side side : sides) {
            variance += side.aligner.movesVarianceNs2(side.radio);
        }
        return Math.sqrt(variance);
    }

    /** Returns the same without the tie. */
    public double untiedUncertaintyNs() {
        return StrictMath.hypot(sides[0].aligner.standardUncertaintyNs(), sides[1].aligner.standardUncertaintyNs());
    }

    /** Returns the standard uncertainty of a mapping's times against the station's, in nanoseconds. */
    public double standardUncertaintyNs(int side) {
        boolean moved = side == 0 ? taps.meanNs() > 0 : taps.meanNs() < 0;
        double ownNs = sides[side].aligner.standardUncertaintyNs();
        return moved
                ? StrictMath.hypot(sides[1 - side].aligner.standardUncertaintyNs(), differenceUncertaintyNs())
                : ownNs;
    }
}
