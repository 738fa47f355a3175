package io.heldmark.simulator.force;

import io.heldmark.simulator.math.SeededRandom;
import io.heldmark.simulator.math.Sinusoids;
import io.heldmark.simulator.scenario.LimbSpec;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * The force of one limb on its cell: rest, efforts and disturbances. Known exactly at every time; times may be asked for in
 * any order, rising ones are quick.
 */
public final class LimbForce {
    private static final int DRIFT_TERMS = 4;
    private static final double LOOK_BACK_S = 1;

    private final int limb;
    private final Plan plan;
    private final LimbSpec spec;
    private final Sinusoids drift;
    private final Sinusoids breathing;

    private int effortCursor;
    private int disturbanceCursor;
    private double foldedS = Double.NEGATIVE_INFINITY;
    private double weightN;
    private @Nullable HungMass hung;

    LimbForce(int limb, LimbSpec spec, Plan plan, SeededRandom random) {
        this.limb = limb;
        this.spec = spec;
        this.plan = plan;
        LimbSpec.Rest rest = spec.rest();
        drift = Sinusoids.band(
                random.split("drift"), DRIFT_TERMS, 1 / rest.driftPeriodS(), 5 / rest.driftPeriodS(), rest.driftN(), 1);
        breathing = Sinusoids.band(random.split("breathing"), 1, 0.2, 0.3, rest.breathingN() / Math.sqrt(2), 0);
    }

    /** Returns the name of the limb. */
    public String name() {
        return spec.name();
    }

    /** Returns the level of the resting limb at a time, in newtons; no effort and no disturbance in it. */
    public double restN(double timeS) {
        return spec.rest().levelN() + drift.value(timeS) + breathing.value(timeS);
    }

    /** Returns the muscle's force above the resting level at a time, in newtons. */
    public double muscleN(double timeS) {
        Effort effort = effortAt(timeS);
        return effort == null ? 0 : effort.muscleN(timeS);
    }

    /** Returns the whole force on the cell at a time, in newtons. */
    public double forceN(double timeS) {
        plan.extendTo(timeS);
        HungMass mass = hung;
        if (mass != null && timeS >= mass.fromS()) {
            return mass.forceN(timeS);
        }
        Effort effort = effortAt(timeS);
        double effortN = effort == null ? 0 : effort.forceN(timeS);
        return restN(timeS) + effortN + disturbanceN(timeS);
    }

    /** Hangs a dead weight on the cell in place of the limb from a time on; no truth knows of it. */
    public void hang(double weightN, double atS) {
        hung = new HungMass(atS, forceN(atS), weightN);
    }

    /** Takes off what {@link #hang} put there: the limb is back. */
    public void free() {
        hung = null;
    }

    /** Returns the efforts planned so far, by rising time. */
    List<Effort> efforts() {
        return plan.efforts(limb);
    }

    /** Returns the disturbances planned so far, by rising start. */
    List<Disturbance> disturbances() {
        return plan.disturbances(limb);
    }

    /** Plans all that begins up to a time. */
    void extendTo(double timeS) {
        plan.extendTo(timeS);
    }

    private @Nullable Effort effortAt(double timeS) {
        List<Effort> efforts = plan.efforts(limb);
        while (effortCursor < efforts.size() && efforts.get(effortCursor).endS() < timeS) {
            effortCursor++;
        }
        while (effortCursor > 0 && efforts.get(effortCursor - 1).endS() >= timeS) {
            effortCursor--;
        }
        if (effortCursor == efforts.size()) {
            return null;
        }
        Effort effort = efforts.get(effortCursor);
        return effort.startS() <= timeS ? effort : null;
    }

    private double disturbanceN(double timeS) {
        List<Disturbance> disturbances = plan.disturbances(limb);
        if (timeS < foldedS) {
            disturbanceCursor = 0;
            weightN = 0;
            foldedS = Double.NEGATIVE_INFINITY;
        }
        // What ended is folded a little late: a converter that averages looks back.
        double foldS = timeS - LOOK_BACK_S;
        while (disturbanceCursor < disturbances.size()
                && disturbances.get(disturbanceCursor).endS() <= foldS) {
            Disturbance past = disturbances.get(disturbanceCursor++);
            weightN += past.passes() ? 0 : past.forceN(timeS);
        }
        foldedS = Math.max(foldedS, foldS);
        double sum = weightN;
        for (int i = disturbanceCursor;
                i < disturbances.size() && disturbances.get(i).startS() < timeS;
                i++) {
            sum += disturbances.get(i).forceN(timeS);
        }
        return sum;
    }
}
