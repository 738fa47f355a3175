package io.heldmark.simulator.fault;

import io.heldmark.simulator.math.SeededRandom;
import io.heldmark.simulator.scenario.FaultSpec;
import io.heldmark.simulator.scenario.Range;
import java.util.List;

/**
 * The times of one kind of fault, in order: those that the scenario lists and, between them, random ones at a mean rate (the
 * gaps are exponential). Never ends; a fault that never happens has the time infinity.
 */
public final class FaultTimes {
    private final List<Double> listedS;
    private final double meanGapS;
    private final double untilS;
    private final Range size;
    private final SeededRandom random;
    private int listed;
    private double randomS;

    /**
     * Makes the times of a fault.
     *
     * @param spec rate, times and size.
     * @param fromS no random one before, in seconds.
     * @param untilS no random one after, in seconds.
     * @param random stream of this fault.
     */
    public FaultTimes(FaultSpec.InTime spec, double fromS, double untilS, SeededRandom random) {
        listedS = spec.atS().stream().sorted().toList();
        meanGapS = spec.perMinute() > 0 ? 60 / spec.perMinute() : Double.POSITIVE_INFINITY;
        this.untilS = untilS;
        size = spec.size();
        this.random = random;
        drawAfter(fromS);
    }

    /** Returns when it happens next, in seconds. */
    public double nextS() {
        return listed < listedS.size() ? Math.min(listedS.get(listed), randomS) : randomS;
    }

    /** Draws its size, in the unit of the fault. */
    public double drawSize() {
        return size.draw(random);
    }

    /** Draws its size as a whole number. */
    public int drawWholeSize() {
        return size.drawWhole(random);
    }

    /**
     * Goes on to the next.
     *
     * @param endedS when this one was over; the next random one is counted from there.
     */
    public void advance(double endedS) {
        if (listed < listedS.size() && listedS.get(listed) <= randomS) {
            listed++;
        } else {
            drawAfter(endedS);
        }
    }

    private void drawAfter(double timeS) {
        randomS = meanGapS == Double.POSITIVE_INFINITY ? meanGapS : timeS + random.nextExponential(meanGapS);
        if (randomS > untilS) {
            randomS = Double.POSITIVE_INFINITY;
        }
    }
}
