package io.heldmark.metric;

import io.heldmark.model.ContractionFlag;

/**
 * A spike above what is held: the highest 20 ms before the release against the median of the second after it, from 0.16 s
 * on, or, where the release comes too soon, of the second before it.
 *
 * <p>The spike is brief: a force that falls slowly after its peak is tiredness, not a jerk. It must also stand out of the noise.
 *
 * <p>A declared lowering has no plateau: the force of a limb that is lengthened rises to the break. What stands out of it after the
 * break is a {@link CatchSpike}.
 *
 * <p><b>Source.</b> 10 %: the project's rule, common practice, no published source.
 */
final class Jerk implements QualityCheck {
    private static final double SHARE = 0.1;
    private static final double NOISES = 5;
    private static final double APART_S = 0.16;
    private static final double PLATEAU_S = 1;
    private static final double LEAST_S = 0.5;
    private static final double LONGEST_S = 0.4;

    @Override
    public ContractionFlag flag() {
        return ContractionFlag.JERK;
    }

    @Override
    public String rule() {
        return "The highest 20 ms before the release lie more than 10 % (and 5 of their noise SD) above the median of the second"
                + " beside them, and the force is above half of that excess for less than 0.4 s. At least 0.5 s of plateau"
                + " must lie beside them. Not of a declared lowering, which has no plateau.";
    }

    @Override
    public boolean raisedBy(Hold hold) {
        if (Lowering.is(hold.window())) {
            return false;
        }
        int top = highest(hold);
        double plateauN = plateauN(hold, top);
        if (top < 0 || !(plateauN > 0)) {
            return false;
        }
        double excessN = hold.heightN(top) - plateauN;
        boolean high = excessN > Math.max(SHARE * plateauN, NOISES * hold.blockNoiseN());
        return high && widthS(hold, top, plateauN + excessN / 2) < LONGEST_S;
    }

    private static int highest(Hold hold) {
        int top = -1;
        for (int b = 0; b < hold.release(); b++) {
            if (!Double.isNaN(hold.heightN(b)) && (top < 0 || hold.heightN(b) > hold.heightN(top))) {
                top = b;
            }
        }
        return top;
    }

    private static double plateauN(Hold hold, int top) {
        int apart = blocks(hold, APART_S);
        int length = blocks(hold, PLATEAU_S);
        int least = blocks(hold, LEAST_S);
        int after = Math.min(hold.release(), top + apart + length);
        if (after - top - apart >= least) {
            return hold.medianN(top + apart, after);
        }
        int before = Math.max(hold.firstAbove(0.8), top - apart - length);
        return top - apart - before >= least ? hold.medianN(before, top - apart) : Double.NaN;
    }

    private static double widthS(Hold hold, int top, double levelN) {
        int from = top;
        while (from > 0 && hold.heightN(from - 1) > levelN) {
            from--;
        }
        int to = top;
        while (to < hold.size() - 1 && hold.heightN(to + 1) > levelN) {
            to++;
        }
        return (to - from + 1) * hold.blockS();
    }

    private static int blocks(Hold hold, double seconds) {
        return (int) Math.round(seconds / hold.blockS());
    }
}
