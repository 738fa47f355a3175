package io.heldmark.metric;

import io.heldmark.model.ContractionFlag;
import io.heldmark.model.TestConditions.Cue;
import io.heldmark.model.TestConditions.EffortType;

/**
 * A hold that is not held. Explosive efforts and lowerings have no plateau to show; where nobody said what was asked for, only
 * what lasts at least 1.5 s is taken for a hold.
 *
 * <p><b>Source.</b> Common practice, no published source.
 */
final class NoPlateau implements QualityCheck {
    private static final double SHARE = 0.9;
    private static final double LEAST_S = 0.5;
    private static final double HOLD_S = 1.5;

    @Override
    public ContractionFlag flag() {
        return ContractionFlag.NO_PLATEAU;
    }

    @Override
    public String rule() {
        return "Less than 0.5 s within 10 % of the peak above rest (means of 100 ms), in what lasts at least 1.5 s up to the"
                + " release; not in efforts that were to be explosive, nor in lowerings.";
    }

    @Override
    public boolean raisedBy(Hold hold) {
        Cue cue = hold.window().conditions().cue();
        boolean holds = hold.window().conditions().effortType() != EffortType.ECCENTRIC && cue != Cue.EXPLOSIVE;
        boolean longEnough = hold.release() * hold.blockS() >= HOLD_S;
        return holds && longEnough && hold.timeAboveS(SHARE) < LEAST_S;
    }
}
